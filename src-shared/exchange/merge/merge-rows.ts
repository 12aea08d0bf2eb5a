/** Two rows of two files that speak of one fixture, made one: blanks filled, contradictions shown. */
import { columnById, type SourceColumnId, sourceColumnIds } from '../../columns/column-table.ts';
import type { FixtureDraft } from '../schedule/expand-row.ts';
import { cellAt, columnAmong, giverOf, type RowDraft } from '../schedule/row-draft.ts';
import { placeOf, tellRow } from '../schedule/tell-row.ts';
import { sameValue } from './same-value.ts';

/** Words that may differ without contradiction: the first file's stay, the others are kept with their row. */
const freeWords: ReadonlySet<SourceColumnId> = new Set<SourceColumnId>(['description', 'remarks']);
/** Settled elsewhere: tags by the match, quantities by the rows, loads once they are watts. */
const settledElsewhere: ReadonlySet<SourceColumnId> = new Set<SourceColumnId>([
  'tag',
  'quantity',
  'load',
]);
/** Where a value stands that another column's cell may carry. */
export const carriedBy: Readonly<Partial<Record<SourceColumnId, readonly SourceColumnId[]>>> = {
  universe: ['address'],
  panel: ['circuit'],
};

type Value = string | number;

/** What the fixture's row says; of a row for several, address and feeder are those of its first. */
function statedOf({ row, place, nth }: FixtureDraft, id: SourceColumnId): Value | undefined {
  if (nth > 0 && (id === 'address' || id === 'fedFrom')) return undefined;
  if (id === 'place') return place ?? undefined;
  return columnById(id).kind === 'text' ? row.text[id] : row.number[id];
}

/** The cell a value came from, as readings name it, and what it says. */
export function cellOfValue(row: RowDraft, id: SourceColumnId): { name: string; raw: string } {
  const from = giverOf(row, id);
  const column = columnAmong(from, [id, ...(carriedBy[id] ?? [])]) ?? 0;
  const name = from.part.log.nameOf(placeOf(from, column));
  return { name, raw: cellAt(from, column)?.text ?? '' };
}

/** Tells at each of two cells what the other says: neither holds. */
export function tellConflict(
  first: RowDraft,
  second: RowDraft,
  id: SourceColumnId,
  tag: string | null,
): void {
  const cells = [cellOfValue(first, id), cellOfValue(second, id)] as const;
  const tell = (row: RowDraft, other: { name: string; raw: string }) => {
    const what = columnById(id).title.toLowerCase();
    const note = `${other.name} says ${other.raw === '' ? 'something else' : `"${other.raw}"`} for the ${what} of ${tag ?? 'this fixture'}: neither was taken; leave one of the two blank`;
    tellRow(row, id, { value: null, confidence: 'refused', note }, carriedBy[id]);
  };
  tell(first, cells[1]);
  tell(second, cells[0]);
}

/** The second file says what the first one's cell could not. */
function tellTaken(first: RowDraft, second: RowDraft, id: SourceColumnId, value: Value): void {
  const { name } = cellOfValue(first, id);
  const note = `taken from here: ${name} could not be read`;
  tellRow(second, id, { value, confidence: 'guess', note }, carriedBy[id]);
}

/** The fixture of two drafts: values of the second fill blanks of the first; where both state one and they differ, neither holds. */
export function mergeDrafts(first: FixtureDraft, second: FixtureDraft): FixtureDraft {
  const text: Partial<Record<SourceColumnId, string>> = {};
  const number: Partial<Record<SourceColumnId, number>> = {};
  const givenBy = new Map<SourceColumnId, RowDraft>();
  const unread = new Set([...first.row.unread, ...second.row.unread]);
  const put = (id: SourceColumnId, value: Value) => {
    if (typeof value === 'number') number[id] = value;
    else text[id] = value;
    unread.delete(id);
  };
  for (const id of sourceColumnIds) {
    if (settledElsewhere.has(id)) continue;
    const a = statedOf(first, id);
    const b = statedOf(second, id);
    if (a !== undefined && b !== undefined && !freeWords.has(id) && !sameValue(id, a, b)) {
      unread.add(id);
      tellConflict(first.row, second.row, id, first.tag);
    } else if (a !== undefined) {
      put(id, a);
      const giver = giverOf(first.row, id);
      if (giver !== first.row) givenBy.set(id, giver);
    } else if (b !== undefined) {
      if (first.row.unread.has(id)) tellTaken(first.row, second.row, id, b);
      put(id, b);
      givenBy.set(id, giverOf(second.row, id));
    }
  }
  if (first.tag !== null) text.tag = first.tag;
  const { homeRunConductor, dataOutput } = first.row.ofRun;
  const id = first.row.rowIds[first.nth];
  const row: RowDraft = {
    ...first.row,
    text,
    number,
    givenBy,
    unread,
    pendingLoad: null,
    rowIds: id === undefined ? [] : [id],
    ofRun: {
      homeRunConductor: homeRunConductor ?? second.row.ofRun.homeRunConductor,
      dataOutput: dataOutput ?? second.row.ofRun.dataOutput,
    },
    mergedFrom: [...originals(first), ...originals(second)],
  };
  return { row, tag: first.tag, place: number.place ?? null, nth: 0, of: 1 };
}

/** The rows a draft was made of, each with the number of fixtures it stands for. */
function originals({ row, of }: FixtureDraft): RowDraft['mergedFrom'] {
  return row.mergedFrom.length > 0 ? row.mergedFrom : [{ row, of }];
}
