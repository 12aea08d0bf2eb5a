/** Rows that come, go, are locked. */
import { blankFixture } from './blank.ts';
import type { Change, Command } from './change.ts';
import { freeId } from './edit-cell.ts';
import type { Fixture, Project } from './project.ts';

/** Places of a run behind a place, moved by `by`. */
function shiftPlaces(
  project: Project,
  run: string,
  after: number,
  by: number,
  except: ReadonlySet<string>,
): Change[] {
  return project.fixtures.flatMap((f): Change[] =>
    f.run === run && f.place !== null && f.place > after && !except.has(f.id)
      ? [{ kind: 'set', table: 'fixtures', key: f.id, field: 'place', value: f.place + by }]
      : [],
  );
}

/** A copy of a fixture behind it on its run: same type and mode, no tag and no address of its own. */
export function insertAfter(project: Project, fixtureId: string): Command | null {
  const index = project.fixtures.findIndex((f) => f.id === fixtureId);
  const model = project.fixtures[index];
  if (model === undefined) return null;
  const id = freeId(
    'f',
    project.fixtures.map((f) => f.id),
  );
  const place = model.place === null ? null : model.place + 1;
  const fixture: Fixture = {
    ...blankFixture(id),
    type: model.type,
    run: model.run,
    place,
    spanM: model.place === 1 ? null : model.spanM,
    mode: model.mode,
    loadW: model.loadW,
    powerFactor: model.powerFactor,
    area: model.area,
    location: model.location,
    reach: model.reach,
  };
  const shifted =
    model.run === null || model.place === null
      ? []
      : shiftPlaces(project, model.run, model.place, 1, new Set());
  const insert: Change = {
    kind: 'insert',
    table: 'fixtures',
    index: index + 1,
    records: [fixture],
  };
  return {
    label: `Insert a fixture behind ${model.tag ?? 'a row'}`,
    changes: [...shifted, insert],
  };
}

/** Removes fixtures and closes the gap in places; spans stay as they are. Locked rows are kept. */
export function removeFixtures(project: Project, fixtureIds: readonly string[]): Command {
  const doomed = new Set(fixtureIds);
  const gone = project.fixtures.filter((f) => doomed.has(f.id) && f.locks.length === 0);
  const keys = gone.map((f) => f.id);
  const changes: Change[] = keys.length === 0 ? [] : [{ kind: 'remove', table: 'fixtures', keys }];
  const runs = new Set(gone.flatMap((f) => f.run ?? []));
  for (const run of runs) {
    const places = gone.filter((f) => f.run === run).flatMap((f) => f.place ?? []);
    for (const f of project.fixtures) {
      if (f.run !== run || f.place === null || keys.includes(f.id)) continue;
      const { place } = f;
      const before = places.filter((p) => p < place).length;
      if (before === 0) continue;
      changes.push({
        kind: 'set',
        table: 'fixtures',
        key: f.id,
        field: 'place',
        value: place - before,
      });
    }
  }
  return {
    label: `Remove ${keys.length === 1 ? (gone[0]?.tag ?? 'a fixture') : `${keys.length} fixtures`}`,
    changes,
  };
}

/** Locks or unlocks a column of fixtures. */
export function setLock(
  project: Project,
  fixtureIds: readonly string[],
  column: string,
  locked: boolean,
): Command {
  const wanted = new Set(fixtureIds);
  const changes = project.fixtures.flatMap((f): Change[] => {
    if (!wanted.has(f.id) || f.locks.includes(column) === locked) return [];
    const value = locked ? [...f.locks, column] : f.locks.filter((c) => c !== column);
    return [{ kind: 'set', table: 'fixtures', key: f.id, field: 'locks', value }];
  });
  return { label: locked ? 'Lock' : 'Unlock', changes };
}
