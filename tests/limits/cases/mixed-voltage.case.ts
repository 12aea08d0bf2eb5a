/** One row of the run says 208 V, the other three 240 V. */
import { cleanProject, withFixture, withRun } from '../build-project.ts';
import type { LimitCase } from '../limit-case.ts';

const passing = cleanProject();

export const limitCase: LimitCase = {
  id: 'mixed-voltage',
  passing,
  failing: withFixture(passing, 'R1f3', { differing: { supplyV: 208 } }),
  corrected: withFixture(passing, 'R1f3', { differing: null }),
  notChecked: withRun(passing, 'R1', { supplyV: null }),
  expects: {
    severity: 'stop',
    run: 'R1',
    tags: ['R1-03'],
    notCheckedLimits: [
      'branch-drop',
      'circuit-load',
      'fixture-under-volts',
      'line-rating',
      'no-operating-point',
      'missing-value',
      'mixed-voltage',
      'run-length',
      'unlikely-value',
      'wrong-voltage',
    ],
  },
};
