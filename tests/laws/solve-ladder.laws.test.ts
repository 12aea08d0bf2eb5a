import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { likelyRun, seededRandom, wildRun } from '../electrical/random-runs.ts';
import { type SolvedRun, solveRun, withLoads } from '../electrical/solved-run.ts';
import { type OracleRun, residualV } from '../oracle/oracle.ts';

// Laws that hold whatever the numbers are; seeds kept, fast-check prints the seed of a failure.

const anyRun = fc
  .tuple(fc.integer(), fc.boolean())
  .map(([seed, wild]) => (wild ? wildRun : likelyRun)(seededRandom(seed)));
const facadeRun = fc.integer().map((seed) => likelyRun(seededRandom(seed)));

/** Runs the law on every solved run and asks for at least `atLeast` of them. */
function onSolved(
  runs: fc.Arbitrary<OracleRun>,
  seed: number,
  numRuns: number,
  atLeast: number,
  law: (run: OracleRun, solved: SolvedRun) => void,
): void {
  let count = 0;
  fc.assert(
    fc.property(runs, (run) => {
      const solved = solveRun(run);
      if (solved.state !== 'solved') return;
      count++;
      law(run, solved);
    }),
    { seed, numRuns },
  );
  expect(count).toBeGreaterThan(atLeast);
}

const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
const times = (values: readonly number[], amps: Float64Array) =>
  sum(values.map((value, k) => value * (amps[k] ?? 0) ** 2));

describe('conservation', () => {
  test('power and reactive power in = loads + losses, to 1e-9 relative', () => {
    onSolved(anyRun, 11, 6000, 2500, (run, solved) => {
      const inW = run.sourceV * solved.headRe;
      const inVar = -run.sourceV * solved.headIm;
      const apparent = Math.hypot(inW, inVar);
      const outW = sum(run.p) + times(run.loopR, solved.throughA);
      const outVar = sum(run.q) + times(run.loopX, solved.throughA);
      expect(Math.abs(inW - outW)).toBeLessThanOrEqual(1e-9 * apparent);
      expect(Math.abs(inVar - outVar)).toBeLessThanOrEqual(1e-9 * apparent);
    });
  });

  test('Kirchhoff’s voltage law on every segment, to 1e-12 of the supply', () => {
    onSolved(anyRun, 12, 6000, 2500, (run, solved) => {
      const phasors = { vRe: [...solved.vRe], vIm: [...solved.vIm] };
      expect(residualV(run, phasors)).toBeLessThanOrEqual(1e-12 * run.sourceV);
    });
  });

  test('every fixture takes its own watts and vars: |S| = |V|·|I|', () => {
    onSolved(anyRun, 13, 2000, 800, (run, solved) => {
      run.p.forEach((p, k) => {
        const apparent = Math.hypot(p, run.q[k] ?? 0);
        const carried = (solved.v[k] ?? 0) * (solved.currentA[k] ?? 0);
        expect(Math.abs(carried - apparent)).toBeLessThanOrEqual(1e-13 * apparent);
      });
    });
  });
});

describe('order and grouping', () => {
  test('cumulative at the last place = through at the first = head current; ends are own', () => {
    onSolved(anyRun, 21, 2000, 800, (run, solved) => {
      const last = run.p.length - 1;
      const headA = Math.hypot(solved.headRe, solved.headIm);
      const slack = 1e-12 * headA;
      expect(Math.abs((solved.cumulativeA[last] ?? 0) - headA)).toBeLessThanOrEqual(slack);
      expect(Math.abs((solved.throughA[0] ?? 0) - headA)).toBeLessThanOrEqual(slack);
      expect(
        Math.abs((solved.cumulativeA[0] ?? 0) - (solved.currentA[0] ?? 0)),
      ).toBeLessThanOrEqual(slack);
      expect(
        Math.abs((solved.throughA[last] ?? 0) - (solved.currentA[last] ?? 0)),
      ).toBeLessThanOrEqual(slack);
    });
  });

  test('loads at places with no cable between them may change places', () => {
    onSolved(facadeRun, 22, 1500, 500, (run) => {
      const joined = run.loopR.map((r, k) => (k % 3 === 0 ? r : 0));
      const base = { ...run, loopR: joined, loopX: run.loopX.map((x, k) => (k % 3 === 0 ? x : 0)) };
      const swap = (values: readonly number[]) =>
        values.map((value, k) => {
          const first = k - (k % 3);
          const size = Math.min(3, values.length - first);
          return values[first + size - 1 - (k - first)] ?? value;
        });
      const one = solveRun(base);
      const other = solveRun({ ...base, p: swap(run.p), q: swap(run.q) });
      expect(other.state).toBe(one.state);
      run.p.forEach((_, k) => {
        expect(Math.abs((one.v[k] ?? 0) - (other.v[k] ?? 0))).toBeLessThanOrEqual(
          1e-10 * run.sourceV,
        );
      });
    });
  });

  test('a place that takes nothing may be left out', () => {
    onSolved(anyRun, 23, 1500, 500, (run, solved) => {
      const split = (values: readonly number[]) => values.flatMap((z) => [z * 0.25, z * 0.75]);
      const idle = (values: readonly number[]) => values.flatMap((s) => [0, s]);
      const longer = solveRun({
        sourceV: run.sourceV,
        loopR: split(run.loopR),
        loopX: split(run.loopX),
        p: idle(run.p),
        q: idle(run.q),
      });
      // steep near collapse: compared through what the supply gives, not only the volts
      expect(longer.state).toBe('solved');
      const last = run.p.length - 1;
      const v = solved.v[last] ?? 0;
      expect(Math.abs((longer.v[2 * last + 1] ?? 0) / v - 1)).toBeLessThan(1e-6);
    });
  });

  test('mirror: a uniform run fed from its other end is the same run read backward', () => {
    onSolved(facadeRun, 24, 500, 100, (run) => {
      const n = run.p.length;
      const uniform = {
        sourceV: run.sourceV,
        loopR: run.p.map(() => run.loopR[0] ?? 0),
        loopX: run.p.map(() => run.loopX[0] ?? 0),
        p: run.p.map(() => run.p[0] ?? 0),
        q: run.p.map(() => run.q[0] ?? 0),
      };
      // the fixtures laid out left to right, the feed at the right: read from the feed, then
      // turned back to left to right
      const fromLeft = solveRun(uniform);
      const fromRight = solveRun({
        sourceV: run.sourceV,
        loopR: [...uniform.loopR].reverse(),
        loopX: [...uniform.loopX].reverse(),
        p: [...uniform.p].reverse(),
        q: [...uniform.q].reverse(),
      });
      expect(fromRight.state).toBe(fromLeft.state);
      const leftToRight = [...fromRight.v].reverse();
      for (let k = 0; k < n; k++) expect(leftToRight[n - 1 - k]).toBe(fromLeft.v[k]);
    });
  });
});

describe('direction of change', () => {
  test('volts never rise along a run', () => {
    onSolved(anyRun, 31, 3000, 1000, (run, solved) => {
      [...solved.v].reduce((before, v) => {
        expect(v).toBeLessThanOrEqual(before * (1 + 1e-14));
        return v;
      }, run.sourceV);
    });
  });

  test('moving load outward never raises the end volts (no reactance, unity power factor)', () => {
    onSolved(facadeRun, 32, 3000, 500, (run) => {
      const plain = { ...run, loopX: run.p.map(() => 0), q: run.p.map(() => 0) };
      const n = run.p.length;
      const from = Math.floor(n / 3);
      const moved = plain.p.map((w, k) =>
        k === from ? w / 2 : k === n - 1 ? w + (plain.p[from] ?? 0) / 2 : w,
      );
      const before = solveRun(plain);
      const after = solveRun({ ...plain, p: n === 1 ? plain.p : moved });
      if (before.state !== 'solved') expect(after.state).toBe('no-operating-point');
      if (after.state !== 'solved') return;
      const slack = run.sourceV * 1e-12;
      expect(after.v[n - 1]).toBeLessThanOrEqual((before.v[n - 1] ?? 0) + slack);
    });
  });

  test('more load never raises the end volts; less supply never lowers the head current', () => {
    onSolved(facadeRun, 33, 2000, 500, (run, solved) => {
      const last = run.p.length - 1;
      const slack = run.sourceV * 1e-12;
      const heavier = solveRun(withLoads(run, 1.05));
      if (heavier.state === 'solved') {
        expect(heavier.v[last]).toBeLessThanOrEqual((solved.v[last] ?? 0) + slack);
      }
      const higher = solveRun({ ...run, sourceV: run.sourceV * 1.05 });
      expect(higher.state).toBe('solved');
      expect(higher.v[last]).toBeGreaterThan(solved.v[last] ?? 0);
      expect(higher.throughA[0]).toBeLessThanOrEqual((solved.throughA[0] ?? 0) * (1 + 1e-12));
    });
  });

  test('the slope of the head current is its difference quotient', () => {
    onSolved(facadeRun, 34, 1000, 300, (run, solved) => {
      const step = 1e-4 * run.sourceV;
      const up = solveRun({ ...run, sourceV: run.sourceV + step });
      const down = solveRun({ ...run, sourceV: run.sourceV - step });
      // where the slope itself changes much within the step the quotient says little
      const bend =
        Math.abs(up.headSlopeRe - down.headSlopeRe) + Math.abs(up.headSlopeIm - down.headSlopeIm);
      const size = Math.hypot(solved.headSlopeRe, solved.headSlopeIm);
      if (down.state !== 'solved' || bend > 1e-2 * size) return;
      const slack = 1e-4 * size + 1e-12;
      expect(Math.abs((up.headRe - down.headRe) / (2 * step) - solved.headSlopeRe)).toBeLessThan(
        slack,
      );
      expect(Math.abs((up.headIm - down.headIm) / (2 * step) - solved.headSlopeIm)).toBeLessThan(
        slack,
      );
    });
  });
});

describe('scale', () => {
  test('4 × the supply and 16 × the loads: 4 × the volts, bit for bit', () => {
    onSolved(anyRun, 41, 2000, 800, (run, solved) => {
      const scaled = solveRun({ ...withLoads(run, 16), sourceV: 4 * run.sourceV });
      expect(scaled.state).toBe('solved');
      run.p.forEach((_, k) => {
        expect(scaled.v[k]).toBe(4 * (solved.v[k] ?? 0));
        expect(scaled.throughA[k]).toBe(4 * (solved.throughA[k] ?? 0));
      });
    });
  });
});
