import type { Fixture, Project, Run } from '../document/project.ts';
import { FixtureFacts, nameKey } from './fixture-facts.ts';
import type { ProjectIndex } from './project-index.ts';
import { type RunCable, runCable } from './run-cable.ts';
import { solveAt } from './run-ladder.ts';
import type { Need, RunResult } from './run-result.ts';

const ids = (facts: readonly FixtureFacts[], lacks: (f: FixtureFacts, i: number) => boolean) =>
  facts.filter(lacks).map((f) => f.fixture.id);

/** Whether every value that solves a run is there, its supply voltage apart. */
function isComplete(facts: readonly FixtureFacts[], cable: RunCable): boolean {
  if (cable.lineOhmPerKm === null || cable.homeRunOhmPerKm === null) return false;
  for (let i = 0; i < facts.length; i += 1) {
    const f = facts[i] as FixtureFacts;
    if (f.loadW === null || f.powerFactor === null || cable.installedM[i] === null) return false;
    if (f.fixture.place === null && facts.length > 1) return false;
  }
  return true;
}

/** What keeps a run from being solved. The home run is not here: without it volts count from the head box. */
function needsOf(
  facts: readonly FixtureFacts[],
  supplyV: number | null,
  cable: RunCable,
): readonly Need[] {
  if (isComplete(facts, cable) && supplyV !== null) return [];
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
  const facts = members.map((fixture) => new FixtureFacts(fixture, index.types));
  return solveFacts(project, index, run, facts);
}

/** As `solveRun`, of fixtures whose facts are at hand. */
export function solveFacts(
  project: Project,
  index: ProjectIndex,
  run: Run,
  facts: readonly FixtureFacts[],
): RunResult {
  const circuit = index.circuits.get(run.circuitId);
  if (circuit === undefined) throw new Error(`run ${run.name} names no circuit`);
  const line = run.line === null ? index.defaultLine : (index.lines.get(nameKey(run.line)) ?? null);
  const cable = runCable(project, run, line, facts);
  const needs = needsOf(facts, run.supplyV, cable);
  const homeRunM = run.homeRunM ?? 0;
  const { supplyV } = run;
  const tolerance = index.numbers.supplyTolerancePct / 100;
  const levels =
    needs.length > 0 || supplyV === null
      ? null
      : solveAt({ facts, cable, homeRunM }, [
          supplyV,
          supplyV * (1 - tolerance),
          supplyV * (1 + tolerance),
        ]);
  const [nominal = null, low = null, high = null] = levels ?? [];
  return {
    run,
    circuit,
    supply: circuit.panel === null ? null : (index.supplies.get(nameKey(circuit.panel)) ?? null),
    line,
    facts,
    supplyV,
    conductors: cable.conductors,
    lineOhmPerKm: cable.lineOhmPerKm,
    homeRunOhmPerKm: cable.homeRunOhmPerKm,
    homeRunReactanceOhmPerKm: cable.homeRunReactanceOhmPerKm,
    homeRunM,
    homeRunKnown: run.homeRunM !== null,
    spanM: cable.spanM,
    piecesM: cable.piecesM,
    installedM: cable.installedM,
    drawnTotalM: sum(cable.spanM),
    installedTotalM: sum(cable.installedM),
    needs,
    solved: levels === null ? null : nominal !== null,
    nominal,
    low,
    high,
  };
}
