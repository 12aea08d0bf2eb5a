/** Names of runs made one, and places where the schedule gives none. */
import { looseKey } from './cell-text.ts';
import type { FixtureDraft } from './expand-row.ts';
import type { ColumnPlan } from './plan-columns.ts';
import type { ReadingLog } from './reading-log.ts';

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

interface Teller {
  readonly sheet: string;
  readonly plan: ColumnPlan;
  readonly log: ReadingLog;
}

function tell(
  { sheet, plan, log }: Teller,
  draft: FixtureDraft,
  id: 'run' | 'place',
  value: string | number,
  confidence: 'likely' | 'guess',
  note: string,
): void {
  const at = plan.read.find((c) => c.id === id) ?? plan.read.find((c) => c.id === 'run');
  const column = at?.column ?? 0;
  const { source } = draft.row;
  const raw = source.cells.find((cell) => cell.column === column)?.text ?? '';
  log.add({ sheet, row: source.number, column }, raw, id, value, confidence, note);
}

/** Spellings that differ in case or blanks only are one run, named as it is written first. */
function runNames(drafts: readonly FixtureDraft[], teller: Teller): (string | null)[] {
  const first = new Map<string, string>();
  return drafts.map((draft) => {
    const written = draft.row.text.run;
    if (written === undefined) return null;
    const key = looseKey(written);
    const name = first.get(key);
    if (name === undefined) {
      first.set(key, written);
      return written;
    }
    if (name !== written && draft.nth === 0) {
      tell(teller, draft, 'run', name, 'likely', `"${written}" taken as run "${name}"`);
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
export function placeFixtures(drafts: readonly FixtureDraft[], teller: Teller): PlacedRuns {
  const names = runNames(drafts, teller);
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
    tell(teller, first.draft, 'place', places[first.index] ?? 1, all ? 'likely' : 'guess', note);
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
