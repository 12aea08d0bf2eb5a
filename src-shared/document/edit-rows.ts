/** Rows that come, go, are locked. */
import { blankFixture } from './blank.ts';
import type { Change, Command } from './change.ts';
import { closeGaps, movePlaces } from './close-gaps.ts';
import { freeId } from './edit-cell.ts';
import { feedersAfterLeaving, feedersAroundInsert } from './follow-feeders.ts';
import type { Fixture, Project } from './project.ts';

/**
 * A copy of a fixture behind it on its run: same type, mode and loads; no tag, address or span that
 * is not known. Those behind move up a place, unless one of them is locked in place.
 */
export function insertAfter(project: Project, fixtureId: string): Command | null {
  const index = project.fixtures.findIndex((f) => f.id === fixtureId);
  const model = project.fixtures[index];
  if (model === undefined) return null;
  const id = freeId(
    'f',
    project.fixtures.map((f) => f.id),
  );
  const place = model.place === null ? null : model.place + 1;
  const feeders = feedersAroundInsert(project, model);
  const fixture: Fixture = {
    ...blankFixture(id),
    type: model.type,
    run: model.run,
    place,
    fedFrom: feeders.own,
    spanM: model.place === 1 ? null : model.spanM,
    mode: model.mode,
    loadW: model.loadW,
    powerFactor: model.powerFactor,
    footprint: model.footprint,
    unitLoad: model.unitLoad,
    leakageMa: model.leakageMa,
    area: model.area,
    location: model.location,
    reach: model.reach,
  };
  const { run: name, place: after } = model;
  const members = project.fixtures.filter((f) => f.run === name);
  const shifted =
    name === null || after === null ? [] : movePlaces(members, (p) => (p > after ? 1 : 0));
  const insert: Change = {
    kind: 'insert',
    table: 'fixtures',
    index: index + 1,
    records: [fixture],
  };
  return {
    label: `Insert a fixture behind ${model.tag ?? 'a row'}`,
    changes: [...feeders.changes, ...shifted, insert],
  };
}

/** Removes fixtures and closes the gap in places; spans stay as they are. Locked rows are kept. */
export function removeFixtures(project: Project, fixtureIds: readonly string[]): Command {
  const doomed = new Set(fixtureIds);
  const gone = project.fixtures.filter((f) => doomed.has(f.id) && f.locks.length === 0);
  const keys = gone.map((f) => f.id);
  const changes: Change[] =
    keys.length === 0
      ? []
      : [
          ...feedersAfterLeaving(project, new Set(keys)),
          { kind: 'remove', table: 'fixtures', keys },
          ...closeGaps(project, new Set(keys)),
        ];
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
