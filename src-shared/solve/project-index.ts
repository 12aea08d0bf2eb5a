import type { ProfileNumbers } from '../document/profile.ts';
import { profileNumbers } from '../document/profile.ts';
import type { Circuit, Line, Project, Run, Supply } from '../document/project.ts';
import { type FixtureFacts, nameKey, TypeBook } from './fixture-facts.ts';

/** Look-ups over one project; made once per change of its small tables. */
export interface ProjectIndex {
  readonly numbers: ProfileNumbers;
  readonly types: TypeBook;
  readonly lines: ReadonlyMap<string, Line>;
  readonly supplies: ReadonlyMap<string, Supply>;
  readonly circuits: ReadonlyMap<string, Circuit>;
  readonly runs: ReadonlyMap<string, Run>;
  readonly defaultLine: Line | null;
}

/** `types`: those of a project before, where its types are still the same. */
export function indexProject(
  project: Project,
  types: TypeBook = new TypeBook(project.types),
): ProjectIndex {
  const lines = new Map(project.lines.map((line) => [nameKey(line.name), line]));
  const named = project.settings.defaultLine;
  return {
    numbers: profileNumbers(project),
    types,
    lines,
    supplies: new Map(project.supplies.map((supply) => [nameKey(supply.name), supply])),
    circuits: new Map(project.circuits.map((circuit) => [circuit.id, circuit])),
    runs: new Map(project.runs.map((run) => [run.name, run])),
    defaultLine: named === null ? null : (lines.get(nameKey(named)) ?? null),
  };
}

/** Fixtures of each run in order of place; a fixture without a place stands last, in order of rows. */
export function membersByRun(facts: readonly FixtureFacts[]): Map<string, FixtureFacts[]> {
  const members = new Map<string, FixtureFacts[]>();
  let [name, list]: [string | null, FixtureFacts[]] = [null, []];
  for (const one of facts) {
    const { run } = one.fixture;
    if (run === null) continue;
    // Rows of a run mostly stand together.
    if (run !== name) {
      name = run;
      list = members.get(run) ?? [];
      if (list.length === 0) members.set(run, list);
    }
    list.push(one);
  }
  for (const [run, unordered] of members) {
    sortByPlace(unordered);
    // A copy has no room to spare.
    members.set(run, unordered.slice());
  }
  return members;
}

/** Sorts in place; stable, so that equal places keep the order of rows. */
function sortByPlace(list: FixtureFacts[]): void {
  let sorted = true;
  for (let i = 1; i < list.length && sorted; i += 1) {
    sorted = placeOf(list[i - 1]) <= placeOf(list[i]);
  }
  if (!sorted) list.sort((a, b) => placeOf(a) - placeOf(b));
}

function placeOf(facts: FixtureFacts | undefined): number {
  return facts?.fixture.place ?? Number.MAX_SAFE_INTEGER;
}
