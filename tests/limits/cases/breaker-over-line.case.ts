/** A 25 A breaker before a line listed for 20 A at most. */
import { cleanProject, withCircuit, withLine } from '../build-project.ts';
import type { LimitCase } from '../limit-case.ts';

const passing = cleanProject();

export const limitCase: LimitCase = {
  id: 'breaker-over-line',
  passing,
  failing: withCircuit(passing, 'c1', { breakerA: 25 }),
  corrected: withCircuit(passing, 'c1', { breakerA: 20 }),
  notChecked: withLine(passing, 'K1', { maxUpstreamBreakerA: null }),
  expects: {
    severity: 'stop',
    value: 25,
    allowed: 20,
    unit: 'A',
    run: 'R1',
    tags: ['R1-01', 'R1-02', 'R1-03', 'R1-04'],
    notCheckedLimits: ['breaker-over-line'],
  },
};
