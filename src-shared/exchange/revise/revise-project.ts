/** A project with what a revised file, or a file read with other answers, changed; the engineer's work stays. */
import type { Change } from '../../document/change.ts';
import { diffProjects } from '../../document/diff-projects.ts';
import type { Fixture, Project, ProjectSettings } from '../../document/project.ts';
import { nameKey } from '../../solve/fixture-facts.ts';
import type { Difference } from './difference.ts';
import { matchCurrent } from './match-fixtures.ts';
import { reviseFixtures } from './revise-fixtures.ts';
import { reviseRecords } from './revise-records.ts';
import { renamedRuns, reviseRuns } from './revise-runs.ts';
import { reviseFields, same } from './three-way.ts';

export type { Difference } from './difference.ts';

export interface Revision {
  /** One command's changes. */
  readonly changes: readonly Change[];
  readonly differences: readonly Difference[];
}

const settingsFields: readonly (keyof ProjectSettings & string)[] = [
  'profile', 'supplyTolerancePct', 'branchDropPct', 'branchDropBinding', 'continuousFactor', 'defaultLine',
  'homeRunConductor', 'exactOhmPerKm', 'exactReactanceOhmPerKm', 'displayUnit',
]; // biome-ignore format: a list

const never = (): boolean => false;

/** The fixtures of a reading on the runs as the engineer has named them. */
function onRenamed(
  fixtures: readonly Fixture[],
  names: ReadonlyMap<string, string>,
): readonly Fixture[] {
  if (names.size === 0) return fixtures;
  return fixtures.map((fixture) => {
    const run = names.get(fixture.run ?? '');
    return run === undefined ? fixture : { ...fixture, run };
  });
}

function namesUsed(fixtures: readonly Fixture[], field: 'type' | 'run'): (name: string) => boolean {
  const used = new Set(fixtures.flatMap((fixture) => nameKey(fixture[field] ?? '')));
  return (name) => used.has(nameKey(name));
}

function partsAfter(base: Project, current: Project, revised: Project) {
  const all = { table: 'project', key: '', name: current.name, isLocked: never } as const;
  const words = reviseFields<Pick<Project, 'name' | 'revision'>>(['name', 'revision'], {
    ...all,
    base,
    current,
    revised,
  });
  const settings = reviseFields<ProjectSettings>(settingsFields, {
    ...all,
    base: base.settings,
    current: current.settings,
    revised: revised.settings,
  });
  const { name, revision } = words.record;
  const assumptions = same(base.assumptions, current.assumptions)
    ? revised.assumptions
    : current.assumptions;
  return {
    parts: { name, revision, settings: settings.record, assumptions, source: revised.source },
    differences: [...words.differences, ...settings.differences],
  };
}

/**
 * What a revised file changes in a project. `base` is the file before, read with its answers and
 * without any edit; `revised` the file now. Fixtures are matched by tag, those with another tag by run
 * and place or by their row. Ids, locks, edits and what the engineer has added stay; what is locked,
 * or changed on both sides, is listed and left. Only the last of the equal values is taken: a field
 * the file did not change is never touched.
 */
export function reviseProject(current: Project, base: Project, revised: Project): Revision {
  const names = renamedRuns(base.runs, current.runs, matchCurrent(base.fixtures, current.fixtures));
  const nameInProject = (name: string) => names.get(name) ?? name;
  const fixtures = reviseFixtures(
    onRenamed(base.fixtures, names),
    current.fixtures,
    onRenamed(revised.fixtures, names),
  );
  const onRun = new Set(fixtures.fixtures.map(({ run }) => run));
  const runs = reviseRuns(base, current, revised, nameInProject, (run) => onRun.has(run));
  const usesType = namesUsed(fixtures.fixtures, 'type');
  const linesUsed = new Set(
    runs.runs.flatMap(({ line }) => (line === null ? [] : [nameKey(line)])),
  );
  const panelsUsed = new Set(
    runs.circuits.flatMap(({ panel }) => (panel === null ? [] : [nameKey(panel)])),
  );
  const types = reviseRecords('types', base.types, current.types, revised.types, usesType);
  const lines = reviseRecords('lines', base.lines, current.lines, revised.lines, (name) =>
    linesUsed.has(nameKey(name)),
  );
  const supplies = reviseRecords(
    'supplies',
    base.supplies,
    current.supplies,
    revised.supplies,
    (name) => panelsUsed.has(nameKey(name)),
  );
  const { parts, differences } = partsAfter(base, current, revised);
  const target: Project = {
    ...current,
    ...parts,
    types: types.records,
    lines: lines.records,
    supplies: supplies.records,
    circuits: runs.circuits,
    runs: runs.runs,
    fixtures: fixtures.fixtures,
  };
  return {
    changes: diffProjects(current, target),
    differences: [
      ...fixtures.differences,
      ...runs.differences,
      ...types.differences,
      ...lines.differences,
      ...supplies.differences,
      ...differences,
    ],
  };
}
