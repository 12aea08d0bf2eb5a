/**
 * Two runs of one 1910 W load each on one 20 A breaker, each behind 0.25 ohm: V = (240 +
 * √(57600 − 4·0.25·1910))/2 = 237.994 V, I = 8.0254 A, together 16.051 A > 0.8·20 = 16 A. At fixed
 * amps, 2·1910/240 = 15.917 A, it would look fine.
 * 0.8: NEC 210.19 and 210.20 (continuous load at 125 %), from memory, verify in the adopted edition.
 */
import { oneLoad, shortened, withCircuit, withFixture, withRun } from '../build-project.ts';
import type { LimitCase } from '../limit-case.ts';

const passing = shortened(withRun(oneLoad(1910), 'R2', { circuitId: 'c1' }), 'R2', 1);
const loadW = 1910;
const r2 = (watts: number) => withFixture(passing, 'R2f1', { loadW: watts });
const eachA = loadW / ((240 + Math.sqrt(240 ** 2 - 4 * 0.25 * loadW)) / 2);

export const limitCase: LimitCase = {
  id: 'circuit-load',
  passing,
  failing: r2(loadW),
  corrected: r2(700),
  notChecked: withCircuit(passing, 'c1', { breakerA: null }),
  expects: {
    severity: 'breach',
    value: 2 * eachA,
    allowed: 16,
    unit: 'A',
    run: null,
    tags: ['R1-01', 'R2-01'],
    notCheckedLimits: ['breaker-over-line', 'circuit-load'],
  },
};
