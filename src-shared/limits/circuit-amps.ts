import type { RunResult, SupplyLevel } from '../solve/run-result.ts';

/** Phasor sum of the head currents of a circuit's runs, A; null when one of them is not solved at this level. */
export function circuitAmps(runs: readonly RunResult[], level: SupplyLevel): number | null {
  let re = 0;
  let im = 0;
  for (const run of runs) {
    const at = run[level];
    if (at === null) return null;
    re += at.headRe;
    im += at.headIm;
  }
  return Math.hypot(re, im);
}
