import type { Ladder, LadderSolution } from './ladder.ts';

/** What a march leaves at the head, in the frame where the last place's voltage is real. */
export interface HeadState {
  /** Supply voltage phasor this end voltage needs, V, and its magnitude. */
  re: number;
  im: number;
  magnitude: number;
  /** d(magnitude)/d(end voltage). */
  slope: number;
  /** Derivative of the supply phasor by the end voltage. */
  dRe: number;
  dIm: number;
  /** Current into the run, A, and its derivative by the end voltage. */
  iRe: number;
  iIm: number;
  diRe: number;
  diIm: number;
}

/** A head state to be handed to `marchLadder` again and again. */
export function createHeadState(): HeadState {
  return { re: 0, im: 0, magnitude: 0, slope: 0, dRe: 0, dIm: 0, iRe: 0, iIm: 0, diRe: 0, diIm: 0 };
}

/**
 * From the voltage of the last place (real, `endV` > 0) back to the supply, exactly:
 * I_k = conj(S_k/V_k), V_(k−1) = V_k + Z_k·ΣI, with the derivative of every phasor by `endV`
 * carried along. Voltage phasors go to `out.vRe`, `out.vIm` (room is the caller's matter).
 */
export function marchLadder(
  ladder: Ladder,
  endV: number,
  out: LadderSolution,
  head: HeadState,
): void {
  const { start, count, loopR, loopX, p, q } = ladder;
  const { vRe, vIm } = out;
  let a = endV;
  let b = 0;
  let da = 1;
  let db = 0;
  let iRe = 0;
  let iIm = 0;
  let diRe = 0;
  let diIm = 0;
  for (let k = count - 1; k >= 0; k--) {
    const at = start + k;
    const pk = p[at] as number;
    const qk = q[at] as number;
    const r = loopR[at] as number;
    const x = loopX[at] as number;
    vRe[k] = a;
    vIm[k] = b;
    const m = 1 / (a * a + b * b);
    // I = (P − jQ)·V/|V|²; dI = −I·conj(dV)·V/|V|²
    const cRe = (pk * a + qk * b) * m;
    const cIm = (pk * b - qk * a) * m;
    const tRe = (da * a + db * b) * m;
    const tIm = (da * b - db * a) * m;
    iRe += cRe;
    iIm += cIm;
    diRe -= cRe * tRe - cIm * tIm;
    diIm -= cRe * tIm + cIm * tRe;
    a += r * iRe - x * iIm;
    b += r * iIm + x * iRe;
    da += r * diRe - x * diIm;
    db += r * diIm + x * diRe;
  }
  const magnitude = Math.sqrt(a * a + b * b);
  head.re = a;
  head.im = b;
  head.magnitude = magnitude;
  head.slope = (a * da + b * db) / magnitude;
  head.dRe = da;
  head.dIm = db;
  head.iRe = iRe;
  head.iIm = iIm;
  head.diRe = diRe;
  head.diIm = diIm;
}
