/** Half a watt for a luminaire is more often a slip; usual is 1 to 2000 W (common practice, no source). */
import { cleanProject, withFixture, withType } from '../build-project.ts';
import type { LimitCase } from '../limit-case.ts';

const passing = cleanProject();

export const limitCase: LimitCase = {
  id: 'unlikely-value',
  passing,
  failing: withFixture(passing, 'R1f2', { loadW: 0.5 }),
  corrected: withFixture(passing, 'R1f2', { loadW: null }),
  notChecked: withType(passing, 'U1', { loadW: null }),
  expects: {
    severity: 'watch',
    value: 0.5,
    run: 'R1',
    tags: ['R1-02'],
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
