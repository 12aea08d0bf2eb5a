/** A constant-power load: real power P in W and lagging reactive power Q in var. */
export interface LoadPhasor {
  readonly activeW: number;
  readonly reactiveVar: number;
}

/**
 * P and Q of a load of `watts` at a lagging power factor: Q = P·tan(acos pf) = P·√(1 − pf²)/pf.
 * null when the watts are negative or not finite, the power factor is not in (0, 1], or Q overflows.
 */
export function loadPhasor(watts: number, powerFactor: number): LoadPhasor | null {
  if (!(watts >= 0 && watts < Infinity) || !(powerFactor > 0 && powerFactor <= 1)) return null;
  const reactiveVar = (watts * Math.sqrt((1 - powerFactor) * (1 + powerFactor))) / powerFactor;
  return reactiveVar < Infinity ? { activeW: watts, reactiveVar } : null;
}
