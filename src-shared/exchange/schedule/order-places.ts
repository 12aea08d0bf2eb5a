/** Names of runs made one, and places where the schedule gives none. */
import { looseKey } from './cell-text.ts';
import type { FixtureDraft } from './expand-row.ts';
import { tellRow } from './tell-row.ts';

/** A fixture on its run, with the place in force. */
export interface PlacedDraft {
  readonly draft: FixtureDraft;
  readonly run: string | null;
  readonly place: number | null;
}

/** Runs in order of first appearance, each with its fixtures in order of place. */
export interface PlacedRuns {
  /** In order of rows. */
  readonly all: readonly PlacedDraft[];
  readonly byRun: ReadonlyMap<string, readonly PlacedDraft[]>;
}

/** Spellings that differ in case or blanks only are one run, named as it is written first. */
function runNames(drafts: readonly FixtureDraft[]): (string | null)[] {
  const first = new Map<string, string>();
  return drafts.map((draft) => {
    const written = draft.row.text.run ?? draft.row.part.implied.run ?? undefined;
    if (written === undefined) return null;
    const key = looseKey(written);
    const name = first.get(key);
    if (name === undefined) {
      first.set(key, written);
      return written;
    }
    if (name !== written && draft.nth === 0) {
      const note = `"${written}" taken as run "${name}"`;
      tellRow(draft.row, 'run', { value: name, confidence: 'likely', note });
    }
    return name;
  });
}

/** Places by the order of rows: each one's number where the written ones agree, else behind the highest. */
function fillPlaces(members: readonly FixtureDraft[]): (number | null)[] {
  const agrees = members.every((draft, index) => draft.place === null || draft.place === index + 1);
  if (agrees) return members.map((_, index) => index + 1);
  let next = members.reduce((highest, draft) => Math.max(highest, draft.place ?? 0), 0);
  return members.map((draft) => {
    if (draft.place !== null) return draft.place;
    next += 1;
    return next;
  });
}

/** Puts fixtures on their runs. No place: order of rows, one reading a run. */
export function placeFixtures(drafts: readonly FixtureDraft[]): PlacedRuns {
  const names = runNames(drafts);
  const members = new Map<string, { draft: FixtureDraft; index: number }[]>();
  drafts.forEach((draft, index) => {
    const name = names[index] ?? null;
    if (name === null) return;
    const list = members.get(name);
    if (list === undefined) members.set(name, [{ draft, index }]);
    else list.push({ draft, index });
  });
  const places: (number | null)[] = drafts.map((draft) => draft.place);
  for (const [name, list] of members) {
    const missing = list.filter(({ draft }) => draft.place === null);
    const [first] = missing;
    if (first === undefined) continue;
    const filled = fillPlaces(list.map(({ draft }) => draft));
    list.forEach(({ index }, at) => {
      places[index] = filled[at] ?? null;
    });
    const all = missing.length === list.length;
    const note = all
      ? `no place given in run ${name}: places 1 to ${list.length} in the order of rows`
      : `no place given on ${missing.length} of ${list.length} fixtures of run ${name}: placed by the order of rows`;
    const value = places[first.index] ?? 1;
    tellRow(first.draft.row, 'place', { value, confidence: all ? 'likely' : 'guess', note }, [
      'run',
    ]);
  }
  const all = drafts.map((draft, index): PlacedDraft => {
    return { draft, run: names[index] ?? null, place: places[index] ?? null };
  });
  const byRun = new Map<string, PlacedDraft[]>();
  for (const [name, list] of members) {
    const placed = list.flatMap(({ index }) => all[index] ?? []);
    byRun.set(
      name,
      placed.sort((a, b) => (a.place ?? 0) - (b.place ?? 0)),
    );
  }
  return { all, byRun };
}
