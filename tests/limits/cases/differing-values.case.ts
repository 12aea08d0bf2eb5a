/** One row of the run says a 15 A breaker, the circuit has 20 A. */
import { cleanProject, withCircuit, withFixture, withRun } from '../build-project.ts';
import type { LimitCase } from '../limit-case.ts';

const passing = cleanProject();

export const limitCase: LimitCase = {
  id: 'differing-values',
  passing,
  failing: withFixture(passing, 'R1f3', { differing: { breakerA: 15 } }),
  corrected: withFixture(passing, 'R1f3', { differing: null }),
  notChecked: withRun(withCircuit(passing, 'c1', { breakerA: null }), 'R1', { supplyV: null }),
  expects: {
    severity: 'breach',
    run: 'R1',
    tags: ['R1-03'],
    notCheckedLimits: [
      'branch-drop',
      'circuit-load',
      'fixture-under-volts',
      'line-rating',
      'no-operating-point',
      'breaker-over-line',
      'differing-values',
      'missing-value',
      'mixed-voltage',
      'run-length',
      'unlikely-value',
      'wrong-voltage',
    ],
  },
};
