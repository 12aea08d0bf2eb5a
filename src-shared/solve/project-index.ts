import type { ProfileNumbers } from '../document/profile.ts';
import { profileNumbers } from '../document/profile.ts';
import type { Circuit, Fixture, Line, Project, Run, Supply } from '../document/project.ts';
import { indexTypes, nameKey, type TypeIndex } from './fixture-facts.ts';

/** Look-ups over one project; made once per change of its small tables. */
export interface ProjectIndex {
  readonly numbers: ProfileNumbers;
  readonly types: TypeIndex;
  readonly lines: ReadonlyMap<string, Line>;
  readonly supplies: ReadonlyMap<string, Supply>;
  readonly circuits: ReadonlyMap<string, Circuit>;
  readonly runs: ReadonlyMap<string, Run>;
  readonly defaultLine: Line | null;
}

export function indexProject(project: Project): ProjectIndex {
  const lines = new Map(project.lines.map((line) => [nameKey(line.name), line]));
  const named = project.settings.defaultLine;
  return {
    numbers: profileNumbers(project),
    types: indexTypes(project.types),
    lines,
    supplies: new Map(project.supplies.map((supply) => [nameKey(supply.name), supply])),
    circuits: new Map(project.circuits.map((circuit) => [circuit.id, circuit])),
    runs: new Map(project.runs.map((run) => [run.name, run])),
    defaultLine: named === null ? null : (lines.get(nameKey(named)) ?? null),
  };
}

/** Fixtures of each run in order of place; a fixture without a place stands last, in order of rows. */
export function membersByRun(fixtures: readonly Fixture[]): Map<string, Fixture[]> {
  const members = new Map<string, Fixture[]>();
  for (const fixture of fixtures) {
    if (fixture.run === null) continue;
    const list = members.get(fixture.run);
    if (list === undefined) members.set(fixture.run, [fixture]);
    else list.push(fixture);
  }
  for (const list of members.values()) sortByPlace(list);
  return members;
}

/** Sorts in place; stable, so that equal places keep the order of rows. */
export function sortByPlace(list: Fixture[]): void {
  let sorted = true;
  for (let i = 1; i < list.length && sorted; i += 1) {
    sorted = placeOf(list[i - 1]) <= placeOf(list[i]);
  }
  if (!sorted) list.sort((a, b) => placeOf(a) - placeOf(b));
}

function placeOf(fixture: Fixture | undefined): number {
  return fixture?.place ?? Number.MAX_SAFE_INTEGER;
}
