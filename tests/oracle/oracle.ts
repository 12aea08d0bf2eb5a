/** A run handed to an outside solver: segment impedances (whole loop) and loads, from the supply on. */
export interface OracleRun {
  readonly sourceV: number;
  readonly loopR: readonly number[];
  readonly loopX: readonly number[];
  readonly p: readonly number[];
  readonly q: readonly number[];
}

/** Its answer: voltage phasors at the places, V, the supply being the real reference. */
export interface Oracle {
  readonly vRe: readonly number[];
  readonly vIm: readonly number[];
}

/**
 * Largest |V_(k−1) − V_k − Z_k·Σ conj(S/V)| in V: how well an answer obeys the circuit, whoever gave
 * it.
 */
export function residualV(run: OracleRun, answer: Oracle): number {
  let worst = 0;
  let iRe = 0;
  let iIm = 0;
  for (let k = run.p.length - 1; k >= 0; k--) {
    const a = answer.vRe[k] ?? Number.NaN;
    const b = answer.vIm[k] ?? Number.NaN;
    const p = run.p[k] ?? Number.NaN;
    const q = run.q[k] ?? Number.NaN;
    const r = run.loopR[k] ?? Number.NaN;
    const x = run.loopX[k] ?? Number.NaN;
    const m = a * a + b * b;
    iRe += (p * a + q * b) / m;
    iIm += (p * b - q * a) / m;
    const beforeRe = k === 0 ? run.sourceV : (answer.vRe[k - 1] ?? Number.NaN);
    const beforeIm = k === 0 ? 0 : (answer.vIm[k - 1] ?? Number.NaN);
    const miss = Math.hypot(beforeRe - a - (r * iRe - x * iIm), beforeIm - b - (r * iIm + x * iRe));
    if (!(miss <= worst)) worst = miss;
  }
  return worst;
}
