import { describe, expect, test } from 'vitest';
import { createLadder, createLadderSolution } from '../../src-shared/electrical/ladder.ts';
import {
  createLadderCurrents,
  ladderCurrents,
} from '../../src-shared/electrical/ladder-currents.ts';
import { solveLadder } from '../../src-shared/electrical/solve-ladder.ts';
import { likelyRun, runsOf, wildRun } from './random-runs.ts';
import { ladderOf, type SolvedRun, solveRun } from './solved-run.ts';

const one = (sourceV: number, r: number, x: number, p: number, q: number): SolvedRun =>
  solveRun({ sourceV, loopR: [r], loopX: [x], p: [p], q: [q] });

function expectNoNumbers(solved: SolvedRun): void {
  const all = [
    solved.v,
    solved.vRe,
    solved.vIm,
    solved.currentA,
    solved.cumulativeA,
    solved.throughA,
  ];
  for (const list of all) expect([...list].every((value) => value === 0)).toBe(true);
  expect([solved.headRe, solved.headIm, solved.headSlopeRe, solved.headSlopeIm]).toEqual([
    0, 0, 0, 0,
  ]);
}

describe('nothing to do', () => {
  test('no places: solved, no current', () => {
    const solved = solveRun({ sourceV: 120, loopR: [], loopX: [], p: [], q: [] });
    expect(solved.state).toBe('solved');
    expect([solved.headRe, solved.headIm, solved.headSlopeRe, solved.headSlopeIm]).toEqual([
      0, 0, 0, 0,
    ]);
  });

  test('no loads: every place at the supply exactly', () => {
    const solved = solveRun({ sourceV: 277, loopR: [1, 2], loopX: [3, 0], p: [0, 0], q: [0, 0] });
    expect([...solved.v]).toEqual([277, 277]);
    expect([...solved.throughA]).toEqual([0, 0]);
  });

  test('no impedance: every place at the supply, currents as S/V', () => {
    const solved = solveRun({
      sourceV: 120,
      loopR: [0, 0],
      loopX: [0, 0],
      p: [120, 96],
      q: [0, 72],
    });
    expect(solved.state).toBe('solved');
    for (const v of solved.v) expect(v).toBeCloseTo(120, 12);
    expect(solved.currentA[1]).toBeCloseTo(1, 12); // 96 W and 72 var are 120 VA
    expect(solved.throughA[0]).toBeCloseTo(Math.hypot(1.8, 0.6), 12);
  });
});

describe('input that cannot be used', () => {
  test.each([0, -120, Number.NaN, Infinity, -Infinity, 1e-300, 1e300])('supply %d V', (sourceV) => {
    const solved = one(sourceV, 1, 0, 10, 0);
    expect(solved.state).toBe('bad-input');
    expectNoNumbers(solved);
  });

  test.each([-1, Number.NaN, Infinity])('a load or an impedance of %d', (bad) => {
    for (const at of [0, 1, 2, 3]) {
      const values = [1, 0.1, 10, 1].map((value, k) => (k === at ? bad : value));
      const [r, x, p, q] = values as [number, number, number, number];
      const solved = one(120, r, x, p, q);
      expect(solved.state).toBe('bad-input');
      expectNoNumbers(solved);
    }
  });
});

describe('extremes', () => {
  test.each([
    [1e-99, 1, 0, 1, 0],
    [1e-9, 1, 0, 1, 1],
    [120, 1e300, 0, 1e300, 0],
    [120, 1e200, 1e200, 1e-3, 0],
    [120, 0.1, 0, 1e308, 1e308],
    [1e-3, 5, 5, 60, 30],
  ])('%d V, %d + j%d ohm, %d W, %d var: no operating point, no number', (v, r, x, p, q) => {
    const solved = one(v, r, x, p, q);
    expect(solved.state).toBe('no-operating-point');
    expectNoNumbers(solved);
  });

  test.each([1e-99, 1e-9, 1e9, 1e99])('%d V with a drop of a tenth is solved', (sourceV) => {
    const solved = one(sourceV, 1, 0, 0.09 * sourceV * sourceV, 0); // V² − V·Vs + 0.09 Vs² = 0
    expect((solved.v[0] ?? 0) / sourceV).toBeCloseTo(0.9, 12);
  });

  test('2,000 places, and a solution without room makes room', () => {
    const count = 2000;
    const ladder = createLadder(count);
    ladder.loopR.fill(1e-3);
    ladder.loopX.fill(1e-4);
    ladder.p.fill(1);
    ladder.q.fill(0.3);
    const solution = createLadderSolution(0);
    expect(solveLadder(ladder, 400, solution)).toBe(true);
    const currents = createLadderCurrents(0);
    ladderCurrents(ladder, solution, currents);
    const losses = [...currents.throughA.subarray(0, count)].reduce((w, a) => w + 1e-3 * a * a, 0);
    expect(Math.abs((400 * solution.headRe) / (count + losses) - 1)).toBeLessThan(1e-9);
  });

  test('wild runs on any supply: solved with finite falling volts, or no number at all', () => {
    for (const [index, run] of runsOf(wildRun, 7, 4000).entries()) {
      const solved = solveRun({ ...run, sourceV: 10 ** ((index % 60) / 5 - 6) });
      if (solved.state !== 'solved') {
        expectNoNumbers(solved);
        continue;
      }
      const all = [...solved.v, ...solved.throughA, ...solved.currentA, ...solved.cumulativeA];
      expect(all.every((value) => value >= 0 && value < Infinity)).toBe(true);
      expect(Number.isNaN(solved.headSlopeRe) || Number.isNaN(solved.headSlopeIm)).toBe(false);
    }
  });
});

describe('the same bits whatever was solved before', () => {
  const runs = [...runsOf(likelyRun, 8, 300), ...runsOf(wildRun, 9, 300)];

  test('one reused solution, in any order, equals fresh ones', () => {
    const shared = createLadderSolution(1);
    const currents = createLadderCurrents(1);
    for (const run of [...runs, ...[...runs].reverse()]) {
      const fresh = solveRun(run);
      const ladder = ladderOf(run);
      solveLadder(ladder, run.sourceV, shared);
      ladderCurrents(ladder, shared, currents);
      expect(shared.state).toBe(fresh.state);
      const count = run.p.length;
      expect([...shared.v.subarray(0, count)]).toEqual([...fresh.v]);
      expect([...shared.vIm.subarray(0, count)]).toEqual([...fresh.vIm]);
      expect([...currents.cumulativeA.subarray(0, count)]).toEqual([...fresh.cumulativeA]);
      expect([shared.headRe, shared.headIm]).toEqual([fresh.headRe, fresh.headIm]);
    }
  });

  test('runs behind one another in common arrays equal runs in arrays of their own', () => {
    const all = createLadder(runs.reduce((total, run) => total + run.p.length, 0));
    const starts = new Map<number, number>();
    let at = 0;
    for (const [index, run] of runs.entries()) {
      starts.set(index, at);
      all.loopR.set(run.loopR, at);
      all.loopX.set(run.loopX, at);
      all.p.set(run.p, at);
      all.q.set(run.q, at);
      at += run.p.length;
    }
    const solution = createLadderSolution();
    const currents = createLadderCurrents();
    for (const [index, run] of runs.entries()) {
      all.start = starts.get(index) ?? 0;
      all.count = run.p.length;
      solveLadder(all, run.sourceV, solution);
      ladderCurrents(all, solution, currents);
      const own = solveRun(run);
      expect([...solution.v.subarray(0, all.count)]).toEqual([...own.v]);
      expect([...currents.throughA.subarray(0, all.count)]).toEqual([...own.throughA]);
    }
  });
});
