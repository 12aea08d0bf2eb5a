/**
 * What each fixture is fed from, kept true when a fixture is renamed, removed, moved or inserted.
 * Only rows that said something right before are touched, and never a locked one.
 */
import type { Change } from './change.ts';
import type { Fixture, Project } from './project.ts';

const same = (a: string | null, b: string | null): boolean =>
  a !== null && b !== null && a.trim().toLowerCase() === b.trim().toLowerCase();

function setFeeder(fixture: Fixture, value: string | null): Change[] {
  if (fixture.fedFrom === value || fixture.locks.includes('fedFrom')) return [];
  return [{ kind: 'set', table: 'fixtures', key: fixture.id, field: 'fedFrom', value }];
}

/** Fixtures of the same run that name this one as their feeder; none when its tag stands twice there. */
function followers(project: Project, fixture: Fixture): Fixture[] {
  if (fixture.tag === null || fixture.run === null) return [];
  const members = project.fixtures.filter((f) => f.run === fixture.run);
  if (members.filter((f) => same(f.tag, fixture.tag)).length > 1) return [];
  return members.filter((f) => f.id !== fixture.id && same(f.fedFrom, fixture.tag));
}

/** A renamed fixture is still what feeds the next one; a first name is taken by the next in place that lacks one. */
export function feedersAfterRename(
  project: Project,
  fixture: Fixture,
  tag: string | null,
): Change[] {
  if (fixture.tag !== null) return followers(project, fixture).flatMap((f) => setFeeder(f, tag));
  if (tag === null || fixture.run === null || fixture.place === null || fixture.fedFrom === null)
    return [];
  const next = project.fixtures.find(
    (f) => f.run === fixture.run && f.place === (fixture.place ?? 0) + 1 && f.fedFrom === null,
  );
  return next === undefined ? [] : setFeeder(next, tag);
}

/** Those behind fixtures that leave their run are fed from what fed the ones that leave. */
export function feedersAfterLeaving(project: Project, leaving: ReadonlySet<string>): Change[] {
  const gone = project.fixtures.filter((f) => leaving.has(f.id));
  const feederBehind = (start: Fixture): string | null => {
    let feeder = start.fedFrom;
    for (let steps = 0; steps < gone.length; steps += 1) {
      const through = gone.find((f) => f.run === start.run && same(f.tag, feeder));
      if (through === undefined) break;
      feeder = through.fedFrom;
    }
    return feeder;
  };
  return gone.flatMap((fixture) =>
    followers(project, fixture)
      .filter((f) => !leaving.has(f.id))
      .flatMap((f) => setFeeder(f, feederBehind(fixture))),
  );
}

/** How this job writes the head box: as the first fixtures do, else BOX. */
function headBoxWord(project: Project): string {
  return project.fixtures.find((f) => f.place === 1 && f.fedFrom !== null)?.fedFrom ?? 'BOX';
}

/** What feeds a fixture that joins a run at its end: its last fixture, or the head box. Says nothing where rows said nothing. */
export function feederAtEnd(project: Project, fixture: Fixture, run: string | null): Change[] {
  if (fixture.fedFrom === null) return [];
  if (run === null) return setFeeder(fixture, null);
  const members = project.fixtures.filter((f) => f.run === run && f.id !== fixture.id);
  const last = members.reduce<Fixture | null>(
    (best, f) => (best === null || (f.place ?? 0) >= (best.place ?? 0) ? f : best),
    null,
  );
  return setFeeder(fixture, last === null ? headBoxWord(project) : last.tag);
}

/** A fixture inserted behind `model`, still without a tag, takes its place in the chain: what `model` fed now waits for the new tag. */
export function feedersAroundInsert(
  project: Project,
  model: Fixture,
): { own: string | null; changes: Change[] } {
  if (model.fedFrom === null) return { own: null, changes: [] };
  return { own: model.tag, changes: followers(project, model).flatMap((f) => setFeeder(f, null)) };
}
