/** A run as a ladder, and the ladder solved. The scratch space here never outlives a call. */
import { createLadder, createLadderSolution, type Ladder } from '../electrical/ladder.ts';
import {
  createLadderCurrents,
  type LadderCurrents,
  ladderCurrents,
} from '../electrical/ladder-currents.ts';
import { loadPhasor } from '../electrical/load.ts';
import { solveLadder } from '../electrical/solve-ladder.ts';
import type { FixtureFacts } from './fixture-facts.ts';
import type { RunCable } from './run-cable.ts';
import { LevelResult } from './run-result.ts';

/** What the electrical part of a run hangs on. Never changed once made. */
export interface RunCircuitry {
  readonly facts: readonly FixtureFacts[];
  readonly cable: RunCable;
  /** 0 where it is not known. */
  readonly homeRunM: number;
}

/** Grown as needed. */
let scratch = createLadder(64);
const solution = createLadderSolution(64);

/** Fills the scratch ladder; null where a load cannot be made into a phasor. */
function fillLadder({ facts, cable, homeRunM }: RunCircuitry): Ladder | null {
  if (scratch.p.length < facts.length) scratch = createLadder(2 * facts.length);
  const ladder = scratch;
  const lineOhmPerKm = cable.lineOhmPerKm ?? 0;
  ladder.count = facts.length;
  for (let i = 0; i < facts.length; i += 1) {
    const fact = facts[i];
    const load = fact && loadPhasor(fact.loadW ?? Number.NaN, fact.powerFactor ?? Number.NaN);
    if (!load) return null;
    const loopKm = (2 * (cable.installedM[i] ?? 0)) / 1000;
    const homeKm = i === 0 ? (2 * homeRunM) / 1000 : 0;
    ladder.loopR[i] = loopKm * lineOhmPerKm + homeKm * (cable.homeRunOhmPerKm ?? 0);
    ladder.loopX[i] =
      loopKm * cable.lineReactanceOhmPerKm + homeKm * cable.homeRunReactanceOhmPerKm;
    ladder.p[i] = load.activeW;
    ladder.q[i] = load.reactiveVar;
  }
  return ladder;
}

/** Currents of a run that is known to solve at this voltage: solved once more, from the same cold start. */
function currentsAt(run: RunCircuitry, supplyV: number): LadderCurrents {
  const ladder = fillLadder(run);
  const currents = createLadderCurrents(run.facts.length);
  if (ladder === null) return currents;
  solveLadder(ladder, supplyV, solution);
  ladderCurrents(ladder, solution, currents);
  return currents;
}

/**
 * Solves a run at each of these supply voltages; an entry is null where there is no operating
 * point. null as a whole: a load cannot be made into a phasor.
 */
export function solveAt(
  run: RunCircuitry,
  suppliesV: readonly number[],
): (LevelResult | null)[] | null {
  const ladder = fillLadder(run);
  if (ladder === null) return null;
  const { count } = ladder;
  // One buffer a run: thousands of small ones are what the garbage collector would spend its time on.
  const buffer = new ArrayBuffer(suppliesV.length * count * Float64Array.BYTES_PER_ELEMENT);
  const currents = (supplyV: number) => currentsAt(run, supplyV);
  return suppliesV.map((supplyV, level) => {
    if (!solveLadder(ladder, supplyV, solution)) return null;
    const offset = level * count * Float64Array.BYTES_PER_ELEMENT;
    const voltsV = new Float64Array(buffer, offset, count);
    for (let i = 0; i < count; i += 1) voltsV[i] = solution.v[i] as number;
    const { headRe, headIm } = solution;
    return new LevelResult(supplyV, voltsV, headRe, headIm, currents);
  });
}
