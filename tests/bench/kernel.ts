/**
 * The yardstick of the benchmark: the least work a constant-power ladder sweep can be, on bare
 * typed arrays, with no rows, no names, no refusals and no findings. Not a test and not the
 * product's solver: plain forward and backward sweeps until the last place moves less than 1e-9 V
 * (right from a flat start).
 */

/** `runs` runs of `perRun` places behind one another; index = run·perRun + place. */
export interface BareInput {
  readonly runs: number;
  readonly perRun: number;
  readonly sourceV: number;
  readonly loopR: Float64Array;
  readonly loopX: Float64Array;
  readonly p: Float64Array;
  readonly q: Float64Array;
}

/** Voltage magnitude, own, cumulative and through current at every place. */
export interface BareOutput {
  readonly v: Float64Array;
  readonly currentA: Float64Array;
  readonly cumulativeA: Float64Array;
  readonly throughA: Float64Array;
}

/** Runs of a few percent of drop, different from one another, the same at every call. */
export function makeBareInput(runs: number, perRun = 20, sourceV = 120): BareInput {
  const size = runs * perRun;
  const input = {
    runs,
    perRun,
    sourceV,
    loopR: new Float64Array(size),
    loopX: new Float64Array(size),
    p: new Float64Array(size),
    q: new Float64Array(size),
  };
  for (let i = 0; i < size; i++) {
    const run = Math.floor(i / perRun);
    const place = i % perRun;
    // 12 AWG, 6.496 ohm/km a conductor: 10 to 29 m to the first place, 1 to 3.2 m between places
    const lengthM = place === 0 ? 10 + (run % 20) : 1 + ((run * 7 + place * 3) % 12) / 5;
    input.loopR[i] = (2 * lengthM * 6.496) / 1000;
    input.loopX[i] = (2 * lengthM * 0.177) / 1000;
    input.p[i] = 20 + ((run * 5 + place * 11) % 40);
    input.q[i] = (input.p[i] as number) * 0.3286841; // power factor 0.95
  }
  return input;
}

/** Room for the answers of `input`. */
export function makeBareOutput(input: BareInput): BareOutput {
  const size = input.runs * input.perRun;
  return {
    v: new Float64Array(size),
    currentA: new Float64Array(size),
    cumulativeA: new Float64Array(size),
    throughA: new Float64Array(size),
  };
}

/** Solves every run; returns the number of sweeps made. At most 1000 a run. */
export function bareKernel(input: BareInput, out: BareOutput): number {
  const { runs, perRun, sourceV, loopR, loopX, p, q } = input;
  const vRe = new Float64Array(perRun);
  const vIm = new Float64Array(perRun);
  const iRe = new Float64Array(perRun);
  const iIm = new Float64Array(perRun);
  const tRe = new Float64Array(perRun);
  const tIm = new Float64Array(perRun);
  let sweeps = 0;
  for (let run = 0; run < runs; run++) {
    const base = run * perRun;
    vRe.fill(sourceV);
    vIm.fill(0);
    let lastRe = sourceV;
    for (let sweep = 0; sweep < 1000; sweep++) {
      sweeps++;
      let sumRe = 0;
      let sumIm = 0;
      for (let k = perRun - 1; k >= 0; k--) {
        const a = vRe[k] as number;
        const b = vIm[k] as number;
        const pk = p[base + k] as number;
        const qk = q[base + k] as number;
        const m = 1 / (a * a + b * b);
        const re = (pk * a + qk * b) * m;
        const im = (pk * b - qk * a) * m;
        iRe[k] = re;
        iIm[k] = im;
        sumRe += re;
        sumIm += im;
        tRe[k] = sumRe;
        tIm[k] = sumIm;
      }
      let a = sourceV;
      let b = 0;
      for (let k = 0; k < perRun; k++) {
        const r = loopR[base + k] as number;
        const x = loopX[base + k] as number;
        const re = tRe[k] as number;
        const im = tIm[k] as number;
        a -= r * re - x * im;
        b -= r * im + x * re;
        vRe[k] = a;
        vIm[k] = b;
      }
      const moved = Math.abs(a - lastRe);
      lastRe = a;
      if (moved < 1e-9) break;
    }
    let sumRe = 0;
    let sumIm = 0;
    for (let k = 0; k < perRun; k++) {
      const a = vRe[k] as number;
      const b = vIm[k] as number;
      const re = iRe[k] as number;
      const im = iIm[k] as number;
      const thruRe = tRe[k] as number;
      const thruIm = tIm[k] as number;
      sumRe += re;
      sumIm += im;
      out.v[base + k] = Math.sqrt(a * a + b * b);
      out.currentA[base + k] = Math.sqrt(re * re + im * im);
      out.cumulativeA[base + k] = Math.sqrt(sumRe * sumRe + sumIm * sumIm);
      out.throughA[base + k] = Math.sqrt(thruRe * thruRe + thruIm * thruIm);
    }
  }
  return sweeps;
}
