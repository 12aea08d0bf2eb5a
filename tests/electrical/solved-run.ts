import type { LadderSolution } from '../../src-shared/electrical/ladder.ts';
import {
  createLadder,
  createLadderSolution,
  type Ladder,
} from '../../src-shared/electrical/ladder.ts';
import {
  createLadderCurrents,
  type LadderCurrents,
  ladderCurrents,
} from '../../src-shared/electrical/ladder-currents.ts';
import { solveLadder } from '../../src-shared/electrical/solve-ladder.ts';
import type { OracleRun } from '../oracle/oracle.ts';

/** The solver's ladder of a run. */
export function ladderOf(run: Omit<OracleRun, 'sourceV'>): Ladder {
  const ladder = createLadder(run.p.length);
  ladder.loopR.set(run.loopR);
  ladder.loopX.set(run.loopX);
  ladder.p.set(run.p);
  ladder.q.set(run.q);
  return ladder;
}

export interface SolvedRun extends LadderSolution, LadderCurrents {}

/** Solves a run into arrays of its own, of exactly its length. */
export function solveRun(run: OracleRun): SolvedRun {
  const ladder = ladderOf(run);
  const solution = createLadderSolution(ladder.count);
  const currents = createLadderCurrents(ladder.count);
  solveLadder(ladder, run.sourceV, solution);
  ladderCurrents(ladder, solution, currents);
  return { ...solution, ...currents };
}

/** The same run with every load times `factor`. */
export function withLoads(run: OracleRun, factor: number): OracleRun {
  return { ...run, p: run.p.map((w) => w * factor), q: run.q.map((w) => w * factor) };
}
