import type { Fixture, Project, Run } from '../document/project.ts';
import { createLadder, createLadderSolution, type Ladder } from '../electrical/ladder.ts';
import { createLadderCurrents, ladderCurrents } from '../electrical/ladder-currents.ts';
import { loadPhasor } from '../electrical/load.ts';
import { solveLadder } from '../electrical/solve-ladder.ts';
import { type FixtureFacts, factsOf, nameKey } from './fixture-facts.ts';
import type { ProjectIndex } from './project-index.ts';
import { type RunCable, runCable } from './run-cable.ts';
import type { LevelResult, Need, RunResult } from './run-result.ts';

const ids = (facts: readonly FixtureFacts[], lacks: (f: FixtureFacts, i: number) => boolean) =>
  facts.filter(lacks).map((f) => f.fixture.id);

/** What keeps a run from being solved. The home run is not here: without it volts count from the head box. */
function needsOf(
  facts: readonly FixtureFacts[],
  supplyV: number | null,
  cable: RunCable,
): readonly Need[] {
  const needs: Need[] = [];
  const add = (what: Need['what'], fixtureIds: readonly string[]) => {
    if (fixtureIds.length > 0) needs.push({ what, fixtureIds });
  };
  add(
    'watts',
    ids(facts, (f) => f.loadW === null),
  );
  add(
    'power factor',
    ids(facts, (f) => f.powerFactor === null),
  );
  add(
    'span',
    ids(facts, (_, i) => i > 0 && cable.installedM[i] === null),
  );
  add(
    'lead-in',
    ids(facts, (_, i) => i === 0 && cable.installedM[i] === null),
  );
  if (facts.length > 1)
    add(
      'place',
      ids(facts, (f) => f.fixture.place === null),
    );
  if (supplyV === null) needs.push({ what: 'supply voltage', fixtureIds: [] });
  if (cable.lineOhmPerKm === null) needs.push({ what: 'conductor', fixtureIds: [] });
  else if (cable.homeRunOhmPerKm === null)
    needs.push({ what: 'home run conductor', fixtureIds: [] });
  return needs;
}

function sum(values: readonly (number | null)[]): number | null {
  let total = 0;
  for (const value of values) {
    if (value === null) return null;
    total += value;
  }
  return total;
}

/** Scratch space, grown as needed; nothing in it outlives a call. */
let scratch = createLadder(64);
const solution = createLadderSolution(64);

/** Fills the scratch ladder from facts and cable; null where a load cannot be made into a phasor. */
function fillLadder(
  facts: readonly FixtureFacts[],
  cable: RunCable,
  homeRunM: number,
): Ladder | null {
  if (scratch.p.length < facts.length) scratch = createLadder(2 * facts.length);
  const ladder = scratch;
  ladder.count = facts.length;
  for (let i = 0; i < facts.length; i += 1) {
    const fact = facts[i];
    const load = fact && loadPhasor(fact.loadW ?? Number.NaN, fact.powerFactor ?? Number.NaN);
    if (!load) return null;
    const loopKm = (2 * (cable.installedM[i] ?? 0)) / 1000;
    const homeKm = i === 0 ? (2 * homeRunM) / 1000 : 0;
    ladder.loopR[i] = loopKm * (cable.lineOhmPerKm ?? 0) + homeKm * (cable.homeRunOhmPerKm ?? 0);
    ladder.loopX[i] =
      loopKm * cable.lineReactanceOhmPerKm + homeKm * cable.homeRunReactanceOhmPerKm;
    ladder.p[i] = load.activeW;
    ladder.q[i] = load.reactiveVar;
  }
  return ladder;
}

function levelAt(ladder: Ladder, supplyV: number): LevelResult | null {
  if (!solveLadder(ladder, supplyV, solution)) return null;
  const currents = createLadderCurrents(ladder.count);
  ladderCurrents(ladder, solution, currents);
  const { headRe, headIm } = solution;
  return {
    supplyV,
    voltsV: solution.v.slice(0, ladder.count),
    ...currents,
    headRe,
    headIm,
    headA: Math.hypot(headRe, headIm),
  };
}

/**
 * Solves one run at low, nominal and high supply. `members` in order of place. Pure: equal input
 * gives equal bits, whatever was solved before.
 */
export function solveRun(
  project: Project,
  index: ProjectIndex,
  run: Run,
  members: readonly Fixture[],
): RunResult {
  const circuit = index.circuits.get(run.circuitId);
  if (circuit === undefined) throw new Error(`run ${run.name} names no circuit`);
  const facts = members.map((fixture) => factsOf(fixture, index.types));
  const line = run.line === null ? index.defaultLine : (index.lines.get(nameKey(run.line)) ?? null);
  const cable = runCable(project, run, line, facts);
  const needs = needsOf(facts, run.supplyV, cable);
  const homeRunM = run.homeRunM ?? 0;
  const base = {
    run,
    circuit,
    supply: circuit.panel === null ? null : (index.supplies.get(nameKey(circuit.panel)) ?? null),
    line,
    facts,
    supplyV: run.supplyV,
    lineOhmPerKm: cable.lineOhmPerKm,
    homeRunOhmPerKm: cable.homeRunOhmPerKm,
    homeRunM,
    homeRunKnown: run.homeRunM !== null,
    spanM: cable.spanM,
    piecesM: cable.piecesM,
    installedM: cable.installedM,
    drawnTotalM: sum(cable.spanM),
    installedTotalM: sum(cable.installedM),
    needs,
  };
  const unsolved = { nominal: null, low: null, high: null };
  if (needs.length > 0 || run.supplyV === null) return { ...base, ...unsolved, solved: null };
  const ladder = fillLadder(facts, cable, homeRunM);
  if (ladder === null) return { ...base, ...unsolved, solved: null };
  const tolerance = index.numbers.supplyTolerancePct / 100;
  const nominal = levelAt(ladder, run.supplyV);
  return {
    ...base,
    nominal,
    low: levelAt(ladder, run.supplyV * (1 - tolerance)),
    high: levelAt(ladder, run.supplyV * (1 + tolerance)),
    solved: nominal !== null,
  };
}
