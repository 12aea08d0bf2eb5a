import type { Ladder, LadderSolution, LadderState } from './ladder.ts';
import { createHeadState, marchLadder } from './march-ladder.ts';

const LEAST_SUPPLY_V = 1e-100;
const GREATEST_SUPPLY_V = 1e100;
const EPSILON = 2 ** -52;
const MOST_MARCHES = 200;
/** A guess is safe while Σ|Z|·Σ|S| stays under this part of its square: see `firstGuess`. */
const SAFE_LOADING = 0.2;

const head = createHeadState();

/**
 * Volts and head current of one unbranched run of constant-power lagging loads on a supply of
 * `sourceV` volts. True when solved; otherwise `out.state` says why not. Always from a cold start,
 * so equal input gives equal bits. No allocation once `out` has room.
 *
 * Method: a chain is solved by shooting from its end. For a last-place voltage v the supply it
 * needs, f(v) = |V_supply|, comes from one exact backward march, with f′. The operating point is
 * the largest v with f(v) = sourceV. From the fold (the largest v with f′ = 0) upward f is convex,
 * and no lower v needs less supply than the fold does (property tests hold both, also for pf near
 * 0 and mixed R and X). So Newton from above never steps over the operating point: a step that
 * lands where f′ ≤ 0 and f is still above the supply, or at v ≤ 0, proves that there is none, and a
 * low-voltage branch is never reached. Lower branches have humps of their own, so a start from
 * below would not be safe.
 */
export function solveLadder(ladder: Ladder, sourceV: number, out: LadderSolution): boolean {
  const count = ladder.count;
  makeRoom(out, count);
  out.marches = 0;
  if (!(sourceV >= LEAST_SUPPLY_V && sourceV <= GREATEST_SUPPLY_V)) {
    return refuse(out, count, 'bad-input');
  }
  let v = firstGuess(ladder, sourceV);
  if (!(v > 0)) return refuse(out, count, 'bad-input');
  const tolerance = EPSILON * sourceV * (2 + count / 16);
  let nearest = Infinity;
  for (let march = 1; march <= MOST_MARCHES; march++) {
    marchLadder(ladder, v, out, head);
    out.marches = march;
    const over = head.magnitude - sourceV;
    const miss = Math.abs(over);
    // Within rounding, or as near as rounding lets it come.
    if (miss <= tolerance || (miss <= 64 * tolerance && miss >= nearest)) {
      finish(out, count);
      return true;
    }
    nearest = miss;
    if (!(head.slope > 0 && miss < Infinity)) break;
    const next = v - over / head.slope;
    if (!(next > 0)) break;
    v = Math.min(next, sourceV);
  }
  return refuse(out, count, 'no-operating-point');
}

/**
 * Where to start, or 0 for an input that cannot be used.
 *
 * Always allowed: the supply itself (with lagging loads no place is above it). When the run is
 * lightly loaded, a nearer start saves a march: v = (Vs + √(Vs² − 4M))/2 with the moment
 * M = Σ R·ΣP + X·ΣQ. It is taken only if N ≤ 0.2·v², N = Σ (R+X)·Σ(P+Q) ≥ Σ|Z|·Σ|S|. Then for
 * m = N/v² every larger v too has |V_supply − v| ≤ m·v and |dV_supply/dv − 1| ≤ m/(1−m), two angles
 * of at most 11.6° and 14.5°: f′ > 0 from v upward, v lies above the fold and Newton is safe.
 */
function firstGuess(ladder: Ladder, sourceV: number): number {
  const { start, count, loopR, loopX, p, q } = ladder;
  let sumP = 0;
  let sumQ = 0;
  let moment = 0;
  let bound = 0;
  for (let at = start + count - 1; at >= start; at--) {
    const pk = p[at] as number;
    const qk = q[at] as number;
    const r = loopR[at] as number;
    const x = loopX[at] as number;
    if (!(pk >= 0 && qk >= 0 && r >= 0 && x >= 0)) return 0;
    sumP += pk;
    sumQ += qk;
    moment += r * sumP + x * sumQ;
    bound += (r + x) * (sumP + sumQ);
  }
  if (!(bound < Infinity && sumP + sumQ < Infinity)) return allFinite(ladder) ? sourceV : 0;
  const root = sourceV * sourceV - 4 * moment;
  if (!(root > 0)) return sourceV;
  const v = 0.5 * (sourceV + Math.sqrt(root));
  return bound <= SAFE_LOADING * v * v ? v : sourceV;
}

function allFinite(ladder: Ladder): boolean {
  const { start, count, loopR, loopX, p, q } = ladder;
  for (let at = start; at < start + count; at++) {
    const load = Math.max(p[at] as number, q[at] as number);
    const impedance = Math.max(loopR[at] as number, loopX[at] as number);
    if (!(load < Infinity && impedance < Infinity)) return false;
  }
  return true;
}

/** Turns every phasor so that the supply is the real reference. */
function finish(out: LadderSolution, count: number): void {
  const { vRe, vIm, v } = out;
  const c = head.re / head.magnitude;
  const s = head.im / head.magnitude;
  for (let k = 0; k < count; k++) {
    const a = vRe[k] as number;
    const b = vIm[k] as number;
    vRe[k] = a * c + b * s;
    vIm[k] = b * c - a * s;
    v[k] = Math.sqrt(a * a + b * b);
  }
  out.headRe = head.iRe * c + head.iIm * s;
  out.headIm = head.iIm * c - head.iRe * s;
  // i = I·conj(u), u = V/|V|, du = j·turn·u with turn = Im(conj(u)·dV)/|V|
  const turn = (c * head.dIm - s * head.dRe) / head.magnitude;
  const steep = head.slope > 0 ? 1 / head.slope : Infinity;
  out.headSlopeRe = slopeOf(head.diRe * c + head.diIm * s + out.headIm * turn, steep);
  out.headSlopeIm = slopeOf(head.diIm * c - head.diRe * s - out.headRe * turn, steep);
  out.state = 'solved';
}

function slopeOf(byEndV: number, steep: number): number {
  return byEndV === 0 ? 0 : byEndV * steep;
}

function refuse(out: LadderSolution, count: number, state: LadderState): false {
  out.vRe.fill(0, 0, count);
  out.vIm.fill(0, 0, count);
  out.v.fill(0, 0, count);
  out.headRe = 0;
  out.headIm = 0;
  out.headSlopeRe = 0;
  out.headSlopeIm = 0;
  out.state = state;
  return false;
}

function makeRoom(out: LadderSolution, count: number): void {
  if (out.v.length >= count) return;
  const capacity = Math.max(count, 2 * out.v.length);
  out.vRe = new Float64Array(capacity);
  out.vIm = new Float64Array(capacity);
  out.v = new Float64Array(capacity);
}
