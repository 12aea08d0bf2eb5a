/** No watts: this limit is the one that says so. It breaks nothing, so its failing case is its case of not checked. */
import { cleanProject, withType } from '../build-project.ts';
import type { LimitCase } from '../limit-case.ts';

const passing = cleanProject();

export const limitCase: LimitCase = {
  id: 'missing-value',
  passing,
  failing: withType(passing, 'U1', { loadW: null }),
  corrected: withType(passing, 'U1', { loadW: 48 }),
  notChecked: withType(passing, 'U1', { loadW: null }),
  expects: {
    severity: 'not-checked',
    run: 'R1',
    tags: ['R1-01', 'R1-02', 'R1-03', 'R1-04'],
    notCheckedLimits: [
      'branch-drop',
      'circuit-load',
      'fixture-under-volts',
      'line-rating',
      'no-operating-point',
      'missing-value',
      'unlikely-value',
    ],
  },
};
