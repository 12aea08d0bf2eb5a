import type { Ladder, LadderSolution } from './ladder.ts';

/** Current magnitudes at each place, A, indexed from 0 like the solution. */
export interface LadderCurrents {
  /** The place's own current |I_i|. */
  currentA: Float64Array;
  /** |Σ of the currents of places 0 to i|, a phasor sum. */
  cumulativeA: Float64Array;
  /** |Σ of the currents of places i to the last|: what the segment arriving at i carries. */
  throughA: Float64Array;
}

/** Room for the currents of `capacity` places; `ladderCurrents` makes more room when needed. */
export function createLadderCurrents(capacity = 32): LadderCurrents {
  return {
    currentA: new Float64Array(capacity),
    cumulativeA: new Float64Array(capacity),
    throughA: new Float64Array(capacity),
  };
}

/**
 * Own, cumulative and through current of every place of a solved ladder: I_k = conj(S_k/V_k),
 * summed as phasors both ways. A solution that is not solved gives zeros.
 */
export function ladderCurrents(
  ladder: Ladder,
  solution: LadderSolution,
  out: LadderCurrents,
): void {
  const { start, count, p, q } = ladder;
  if (out.currentA.length < count) Object.assign(out, createLadderCurrents(count));
  const { currentA, cumulativeA, throughA } = out;
  if (solution.state !== 'solved') {
    currentA.fill(0, 0, count);
    cumulativeA.fill(0, 0, count);
    throughA.fill(0, 0, count);
    return;
  }
  const { vRe, vIm } = solution;
  let sumRe = 0;
  let sumIm = 0;
  for (let k = count - 1; k >= 0; k--) {
    const a = vRe[k] as number;
    const b = vIm[k] as number;
    const pk = p[start + k] as number;
    const qk = q[start + k] as number;
    const m = 1 / (a * a + b * b);
    sumRe += (pk * a + qk * b) * m;
    sumIm += (pk * b - qk * a) * m;
    throughA[k] = Math.sqrt(sumRe * sumRe + sumIm * sumIm);
  }
  sumRe = 0;
  sumIm = 0;
  for (let k = 0; k < count; k++) {
    const a = vRe[k] as number;
    const b = vIm[k] as number;
    const pk = p[start + k] as number;
    const qk = q[start + k] as number;
    const m = 1 / (a * a + b * b);
    const re = (pk * a + qk * b) * m;
    const im = (pk * b - qk * a) * m;
    sumRe += re;
    sumIm += im;
    currentA[k] = Math.sqrt(re * re + im * im);
    cumulativeA[k] = Math.sqrt(sumRe * sumRe + sumIm * sumIm);
  }
}
