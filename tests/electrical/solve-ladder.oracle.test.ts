import { describe, expect, test } from 'vitest';
import { findProgram, findPythonWith } from '../house/need.ts';
import { solveByNgspice } from '../oracle/ngspice.ts';
import { type Oracle, type OracleRun, residualV } from '../oracle/oracle.ts';
import { solveByScipy } from '../oracle/scipy.ts';
import { likelyRun, runsOf } from './random-runs.ts';
import { solveRun } from './solved-run.ts';
import { leastSupply, scanEndVolts } from './supply-needed.ts';

// Random runs with power factors 0.5 to 1, reactance and fixtures that take nothing, and the same
// on supplies close above the least they need.

const solvable = (seed: number, count: number): OracleRun[] =>
  runsOf(likelyRun, seed, 4 * count)
    .filter((run) => run.p.some((p) => p > 0) && run.p.length > 1)
    .map((run) => {
      // a supply with 2 to 30 % of drop, whatever the loads are
      const least = leastSupply(run, scanEndVolts(run, 600)).supplyV;
      return { ...run, sourceV: Math.max(run.sourceV, 1.12 * least) };
    })
    .slice(0, count);

const nearCollapse = (seed: number, count: number, part: number): OracleRun[] =>
  solvable(seed, count).map((run) => ({
    ...run,
    sourceV: leastSupply(run, scanEndVolts(run, 600)).supplyV * (1 + part),
  }));

/** Largest distance of two phasors, V; an answer that is missing is infinitely far. */
function farthestV(run: OracleRun, answer: Oracle | null | undefined): number {
  const solved = solveRun(run);
  if (!answer || solved.state !== 'solved') return Infinity;
  const misses = run.p.map((_, k) =>
    Math.hypot(
      (solved.vRe[k] ?? 0) - (answer.vRe[k] ?? Infinity),
      (solved.vIm[k] ?? 0) - (answer.vIm[k] ?? Infinity),
    ),
  );
  return Math.max(...misses);
}

const python = findPythonWith('scipy.optimize');
const ngspice = findProgram('ngspice');

describe.skipIf(!python)('needs Python with scipy: nodal equations by fsolve', () => {
  test('200 runs, phasors at every place within 1e-10 V', () => {
    const runs = solvable(501, 200);
    const answers = solveByScipy(runs) ?? [];
    expect(answers).toHaveLength(200);
    expect(runs.some((run) => run.p.includes(0)) && runs.some((run) => run.p.length > 35)).toBe(
      true,
    );
    runs.forEach((run, index) => {
      expect(residualV(run, answers[index] ?? { vRe: [], vIm: [] })).toBeLessThan(1e-9);
      expect(farthestV(run, answers[index])).toBeLessThan(1e-10);
    });
  });

  // The closer to collapse, the more a rounding in the equations moves the volts: by about
  // 1/√(distance). fsolve starts from the full supply and stays on the upper branch.
  test.each([
    [1e-2, 1e-10],
    [1e-4, 1e-9],
    [1e-6, 1e-8],
  ])('30 runs on a supply %d above the least, within %d V', (part, tolerance) => {
    const runs = nearCollapse(502, 30, part);
    const answers = solveByScipy(runs) ?? [];
    expect(answers).toHaveLength(30);
    const misses = runs.map((run, index) => farthestV(run, answers[index]));
    expect(Math.max(...misses)).toBeLessThan(tolerance);
  });

  test('30 runs on a supply a thousandth under the least: fsolve finds nothing, nor do we', () => {
    const runs = nearCollapse(503, 30, -1e-3);
    expect(solveByScipy(runs)).toEqual(runs.map(() => null));
    expect(runs.map((run) => solveRun(run).state)).toEqual(runs.map(() => 'no-operating-point'));
  });
});

describe.skipIf(!ngspice)('needs ngspice: operating point of two coupled real networks', () => {
  test.each(solvable(601, 25).map((run, index) => ({ number: index + 1, run })))(
    'run $number, phasors at every place within 1e-8 V',
    ({ run }) => {
      expect(farthestV(run, solveByNgspice(run))).toBeLessThan(1e-8);
    },
  );

  // its own tolerances are magnified by about 1/√(distance)
  test.each(nearCollapse(602, 6, 1e-2).map((run, index) => ({ number: index + 1, run })))(
    'run $number on a supply a hundredth above the least, within 1e-7 V',
    ({ run }) => {
      expect(farthestV(run, solveByNgspice(run))).toBeLessThan(1e-7);
    },
  );
});
