import { describe, expect, test } from 'vitest';
import { createLadderSolution } from '../../src-shared/electrical/ladder.ts';
import { createHeadState, marchLadder } from '../../src-shared/electrical/march-ladder.ts';
import { bareKernel } from '../bench/kernel.ts';
import type { OracleRun } from '../oracle/oracle.ts';
import { likelyRun, runsOf, wildRun } from './random-runs.ts';
import { ladderOf, solveRun } from './solved-run.ts';
import { leastSupply, scanEndVolts, supplyNeededV } from './supply-needed.ts';

// The solver's decision "no operating point" rests on two properties of f, the supply volts needed
// as a function of the end volts. No proof of them was found: they are held by dense scans here.

const loaded = (run: OracleRun) =>
  run.p.some((p, k) => p + (run.q[k] ?? 0) > 0 && (run.loopR[0] ?? 0) + (run.loopX[0] ?? 0) > 0);
const wild = runsOf(wildRun, 20250101, 2500).filter(loaded);
const likely = runsOf(likelyRun, 20250102, 500).filter(loaded);

describe.each([
  ['wild', wild, 1500],
  ['likely', likely, 400],
] as const)('shape of f, %s runs', (_, runs, atLeast) => {
  test('enough of them', () => {
    expect(runs.length).toBeGreaterThan(atLeast);
  });

  test('f is convex from the fold up, and its slope is what the march says', () => {
    const head = createHeadState();
    const solution = createLadderSolution(40);
    const worst = { magnitude: 0, slope: 0, bend: 0 };
    for (const run of runs) {
      const ladder = ladderOf(run);
      let slopeAbove = 1; // f′ → 1 for a large end voltage
      for (const { endV, supplyV } of scanEndVolts(run, 600)) {
        marchLadder(ladder, endV, solution, head);
        worst.magnitude = Math.max(worst.magnitude, Math.abs(head.magnitude / supplyV - 1));
        if (head.slope <= 0) break;
        const step = 1e-5 * endV;
        const up = supplyNeededV(run, endV + step);
        const down = supplyNeededV(run, endV - step);
        const rounding = supplyV / endV; // what cancels in the quotient
        const miss = Math.abs((up - down) / (2 * step) - head.slope) / (1 + rounding);
        worst.slope = Math.max(worst.slope, miss);
        worst.bend = Math.max(worst.bend, head.slope / slopeAbove - 1);
        slopeAbove = head.slope;
      }
    }
    expect(worst.magnitude).toBeLessThan(1e-12);
    expect(worst.slope).toBeLessThan(1e-8);
    expect(worst.bend).toBeLessThan(1e-9);
  });

  test('no end voltage below the fold needs less supply than the fold', () => {
    let humps = 0;
    for (const run of runs) {
      const scan = scanEndVolts(run, 1500);
      const fold = scan.findIndex((point, k) => point.supplyV < (scan[k + 1]?.supplyV ?? Infinity));
      const below = scan.slice(fold + 1);
      const foldV = scan[fold]?.supplyV ?? Number.NaN;
      const least = below.reduce((min, point) => Math.min(min, point.supplyV), Infinity);
      expect(least).toBeGreaterThanOrEqual(foldV);
      if (below.some((point, k) => point.supplyV > (below[k + 1]?.supplyV ?? Infinity))) humps++;
    }
    // lower humps do occur: a solver that starts from below would find false answers in them
    if (runs === wild) expect(humps).toBeGreaterThan(100);
  });
});

describe('the decision at the edge', () => {
  const edgeRuns = [...wild.slice(0, 1500), ...likely];

  test('a supply 1e-6 above the least has an operating point above the fold, 1e-6 below has none', () => {
    for (const run of edgeRuns) {
      const least = leastSupply(run, scanEndVolts(run, 1500));
      const above = solveRun({ ...run, sourceV: least.supplyV * (1 + 1e-6) });
      expect(above.state).toBe('solved');
      expect(above.v[run.p.length - 1]).toBeGreaterThan(least.endV);
      const below = solveRun({ ...run, sourceV: least.supplyV * (1 - 1e-6) });
      expect(below.state).toBe('no-operating-point');
    }
  });

  test('the same at 1e-11', () => {
    for (const run of edgeRuns) {
      const least = leastSupply(run, scanEndVolts(run, 1500));
      expect(solveRun({ ...run, sourceV: least.supplyV * (1 + 1e-11) }).state).toBe('solved');
      expect(solveRun({ ...run, sourceV: least.supplyV * (1 - 1e-11) }).state).toBe(
        'no-operating-point',
      );
    }
  });

  test('it never takes more than 60 marches, and 4 for a light load', () => {
    for (const run of edgeRuns) {
      const least = leastSupply(run, scanEndVolts(run, 600)).supplyV;
      for (const part of [1 - 1e-9, 1, 1 + 1e-9, 1.001]) {
        expect(solveRun({ ...run, sourceV: least * part }).marches).toBeLessThanOrEqual(60);
      }
      expect(solveRun({ ...run, sourceV: least * 100 }).marches).toBeLessThanOrEqual(4);
    }
  });
});

describe('always the upper branch', () => {
  test('no end voltage above the answer needs this supply', () => {
    let solvedRuns = 0;
    for (const run of [...wild, ...likely]) {
      const solved = solveRun(run);
      if (solved.state !== 'solved') continue;
      solvedRuns++;
      const endV = solved.v[run.p.length - 1] ?? 0;
      let least = Infinity;
      for (let above = endV * 1.001; above < 1.1 * run.sourceV; above *= 1.01) {
        least = Math.min(least, supplyNeededV(run, above));
      }
      expect(least).toBeGreaterThan(run.sourceV);
    }
    expect(solvedRuns).toBeGreaterThan(500);
  });

  test('plain sweeps from the full supply, where they settle, settle on the same volts', () => {
    let settled = 0;
    for (const run of [...wild, ...likely]) {
      const swept = sweptVolts(run);
      if (swept === null) continue;
      settled++;
      const solved = solveRun(run);
      expect(solved.state).toBe('solved');
      const misses = swept.map((v, k) => Math.abs(v - (solved.v[k] ?? 0)) / run.sourceV);
      // a step of 1e-14 may be an error of 1e-14·q/(1 − q): q is at most 0.99 here
      expect(Math.max(...misses)).toBeLessThan(1e-11);
    }
    expect(settled).toBeGreaterThan(1000);
  });

  test('so does the yardstick of the benchmark, within what it stops at', () => {
    let settled = 0;
    for (const run of likely) {
      const count = run.p.length;
      const out = {
        v: new Float64Array(count),
        currentA: new Float64Array(count),
        cumulativeA: new Float64Array(count),
        throughA: new Float64Array(count),
      };
      const input = { ...ladderOf(run), runs: 1, perRun: count, sourceV: run.sourceV };
      if (bareKernel(input, out) > 20) continue; // many sweeps: its last step is not its error
      settled++;
      const solved = solveRun(run);
      for (const key of ['v', 'currentA', 'cumulativeA', 'throughA'] as const) {
        const misses = [...out[key]].map((value, k) => Math.abs(value - (solved[key][k] ?? 0)));
        expect(Math.max(...misses)).toBeLessThan(1e-7);
      }
    }
    expect(settled).toBeGreaterThan(150);
  });
});

/** Volts by forward and backward sweeps from the full supply, or null when they do not settle. */
function sweptVolts(run: OracleRun): number[] | null {
  const count = run.p.length;
  const vRe = new Float64Array(count).fill(run.sourceV);
  const vIm = new Float64Array(count);
  const iRe = new Float64Array(count + 1);
  const iIm = new Float64Array(count + 1);
  let before = Infinity;
  for (let sweep = 0; sweep < 4000; sweep++) {
    for (let k = count - 1; k >= 0; k--) {
      const [a, b, p, q] = [vRe[k], vIm[k], run.p[k], run.q[k]] as [number, number, number, number];
      const square = a * a + b * b;
      iRe[k] = (iRe[k + 1] as number) + (p * a + q * b) / square;
      iIm[k] = (iIm[k + 1] as number) + (p * b - q * a) / square;
    }
    let [a, b, moved] = [run.sourceV, 0, 0];
    for (let k = 0; k < count; k++) {
      const [r, x] = [run.loopR[k], run.loopX[k]] as [number, number];
      const [re, im] = [iRe[k], iIm[k]] as [number, number];
      a -= r * re - x * im;
      b -= r * im + x * re;
      moved = Math.max(moved, Math.abs(a - (vRe[k] as number)), Math.abs(b - (vIm[k] as number)));
      vRe[k] = a;
      vIm[k] = b;
    }
    if (!(moved < 1e3 * run.sourceV)) return null;
    if (moved <= 1e-14 * run.sourceV) {
      return Array.from(vRe, (re, k) => Math.hypot(re, vIm[k] ?? 0));
    }
    if (sweep > 20 && moved > 0.99 * before && moved > 1e-13 * run.sourceV) return null;
    before = moved;
  }
  return null;
}
