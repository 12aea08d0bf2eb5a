import type { Change } from './change.ts';
import type { Fixture, Project } from './project.ts';

/** Places of these fixtures of one run moved by what `by` says; none when one of them is locked. */
export function movePlaces(
  members: readonly Fixture[],
  by: (place: number) => number,
): readonly Change[] {
  const changes: Change[] = [];
  for (const { id, place, locks } of members) {
    const step = place === null ? 0 : by(place);
    if (place === null || step === 0) continue;
    // A locked place stays, and the others with it: the chain then says what is missing or twice.
    if (locks.includes('place')) return [];
    changes.push({ kind: 'set', table: 'fixtures', key: id, field: 'place', value: place + step });
  }
  return changes;
}

/** Fixtures behind those that leave a run close up. A place that another fixture holds too leaves no gap. */
export function closeGaps(project: Project, leaving: ReadonlySet<string>): Change[] {
  const gone = new Map<string, Set<number>>();
  const staying = new Map<string, Fixture[]>();
  for (const fixture of project.fixtures) {
    if (fixture.run === null || !leaving.has(fixture.id) || fixture.place === null) continue;
    const places = gone.get(fixture.run) ?? new Set();
    gone.set(fixture.run, places.add(fixture.place));
  }
  if (gone.size === 0) return [];
  for (const fixture of project.fixtures) {
    if (fixture.run === null || leaving.has(fixture.id) || !gone.has(fixture.run)) continue;
    const members = staying.get(fixture.run) ?? [];
    members.push(fixture);
    staying.set(fixture.run, members);
  }
  return [...gone].flatMap(([run, places]) => {
    const members = staying.get(run) ?? [];
    for (const { place } of members) if (place !== null) places.delete(place);
    const gaps = [...places].sort((a, b) => a - b);
    return movePlaces(members, (place) => {
      const behind = gaps.findIndex((gap) => gap > place);
      return -(behind < 0 ? gaps.length : behind);
    });
  });
}
