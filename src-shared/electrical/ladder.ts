/**
 * One unbranched run as the solver sees it: places 0 … count−1 in order from the panel, each with
 * the impedance of the segment arriving at it (place 0: home run and lead-in) and its load.
 * The four arrays may hold many runs behind one another: this one begins at `start`.
 */
export interface Ladder {
  /** Index of the first place in the arrays. */
  start: number;
  /** Number of places; 0 is allowed. */
  count: number;
  /** Loop resistance of each segment, both conductors, ohm, ≥ 0. */
  loopR: Float64Array;
  /** Loop reactance of each segment, both conductors, ohm, ≥ 0. */
  loopX: Float64Array;
  /** Real power at each place, W, ≥ 0. */
  p: Float64Array;
  /** Lagging reactive power at each place, var, ≥ 0. */
  q: Float64Array;
}

/**
 * `solved`; `no-operating-point`: no voltages carry these loads from this supply;
 * `bad-input`: a supply that is not above 0 V (1e-100 to 1e100 V is taken), or a negative or
 * not finite impedance or load.
 */
export type LadderState = 'solved' | 'no-operating-point' | 'bad-input';

/**
 * Where a solution is written: reusable, indexed 0 … count−1 whatever the ladder's `start`.
 * Phasors have the supply as the real reference. Numbers mean something only when `state` is
 * `solved`; otherwise the voltages up to `count` and the head current are 0, never a leftover.
 */
export interface LadderSolution {
  state: LadderState;
  /** Voltage phasor at each place, V. */
  vRe: Float64Array;
  vIm: Float64Array;
  /** Voltage magnitude at each place, V. */
  v: Float64Array;
  /** Current phasor into the whole run, A (an inductive run has headIm < 0). */
  headRe: number;
  headIm: number;
  /**
   * d(headRe)/d(sourceV) and d(headIm)/d(sourceV), A/V: what a trunk that feeds several runs needs
   * to know of each (a supply phasor V∠φ gives the same current turned by φ). Infinite at the very
   * point of collapse.
   */
  headSlopeRe: number;
  headSlopeIm: number;
  /** Backward marches the answer took. */
  marches: number;
}

/** A ladder of `count` places with arrays of its own, all zeros, to be filled by the caller. */
export function createLadder(count: number): Ladder {
  return {
    start: 0,
    count,
    loopR: new Float64Array(count),
    loopX: new Float64Array(count),
    p: new Float64Array(count),
    q: new Float64Array(count),
  };
}

/** An empty solution with room for `capacity` places; `solveLadder` makes more room when needed. */
export function createLadderSolution(capacity = 32): LadderSolution {
  return {
    state: 'bad-input',
    vRe: new Float64Array(capacity),
    vIm: new Float64Array(capacity),
    v: new Float64Array(capacity),
    headRe: 0,
    headIm: 0,
    headSlopeRe: 0,
    headSlopeIm: 0,
    marches: 0,
  };
}
