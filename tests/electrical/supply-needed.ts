import type { OracleRun } from '../oracle/oracle.ts';

/**
 * Supply volts a run needs when its last place stands at `endV`: Kirchhoff's laws from the end back,
 * written anew for the tests, without the solver's derivative.
 */
export function supplyNeededV(run: Omit<OracleRun, 'sourceV'>, endV: number): number {
  let [vRe, vIm, iRe, iIm] = [endV, 0, 0, 0];
  for (let k = run.p.length - 1; k >= 0; k--) {
    const p = run.p[k] as number;
    const q = run.q[k] as number;
    const r = run.loopR[k] as number;
    const x = run.loopX[k] as number;
    const square = vRe * vRe + vIm * vIm;
    iRe += (p * vRe + q * vIm) / square;
    iIm += (p * vIm - q * vRe) / square;
    vRe += r * iRe - x * iIm;
    vIm += r * iIm + x * iRe;
  }
  return Math.sqrt(vRe * vRe + vIm * vIm);
}

/** One end voltage and what it needs. */
export interface Needed {
  readonly endV: number;
  readonly supplyV: number;
}

/**
 * A dense scan of end voltages downward from far above any fold (`2·√(Σ|Z|·Σ|S|)` and more) over
 * `decades` decades, equal steps in the logarithm; it stops where the numbers overflow.
 */
export function scanEndVolts(run: OracleRun, steps: number, decades = 6): Needed[] {
  const sum = (a: readonly number[], b: readonly number[]) =>
    a.reduce((total, value, k) => total + Math.hypot(value, b[k] ?? 0), 0);
  const top = 8 * Math.sqrt(sum(run.loopR, run.loopX) * sum(run.p, run.q));
  const scan: Needed[] = [];
  for (let step = 0; step <= steps; step++) {
    const endV = top * 10 ** ((-decades * step) / steps);
    const supplyV = supplyNeededV(run, endV);
    if (!(supplyV < Infinity)) break;
    scan.push({ endV, supplyV });
  }
  return scan;
}

/** The least supply any end voltage needs: the least of the scan, refined by golden section. */
export function leastSupply(run: OracleRun, scan: readonly Needed[]): Needed {
  let at = 0;
  scan.forEach((point, index) => {
    if (point.supplyV < (scan[at]?.supplyV ?? Infinity)) at = index;
  });
  let low = scan[Math.min(at + 1, scan.length - 1)]?.endV ?? 0;
  let high = scan[Math.max(at - 1, 0)]?.endV ?? 0;
  const ratio = (Math.sqrt(5) - 1) / 2;
  for (let pass = 0; pass < 60; pass++) {
    const [a, b] = [high - ratio * (high - low), low + ratio * (high - low)];
    if (supplyNeededV(run, a) < supplyNeededV(run, b)) high = b;
    else low = a;
  }
  const endV = (low + high) / 2;
  return { endV, supplyV: supplyNeededV(run, endV) };
}
