/** All rows below the header: read, or skipped with a reason. */
import type { ProfileId, SkippedRow } from '../../document/project.ts';
import type { SourceRow } from '../../document/source-workbook.ts';
import { textOf } from './cell-text.ts';
import { RowClassifier, type SkipReason } from './classify-row.ts';
import { RowReader } from './read-row.ts';
import type { TagHabit } from './read-text-cell.ts';
import type { RowDraft } from './row-draft.ts';
import type { SheetHabits } from './sheet-habits.ts';
import type { SheetPart } from './sheet-part.ts';
import { SheetView } from './sheet-view.ts';
import type { HyphenHabit } from './slot-range.ts';

/** The rows of one sheet, each with the reason why it is skipped; null: it stands for fixtures. */
export interface ClassifiedRows {
  readonly view: SheetView;
  readonly rows: readonly { readonly row: SourceRow; readonly reason: SkipReason | null }[];
}

/** Decides for every filled row below the header whether it stands for fixtures. */
export function classifyRows(part: SheetPart, readHidden: boolean): ClassifiedRows {
  const view = new SheetView(part.sheet);
  const classifier = new RowClassifier(part.plan, view, readHidden);
  const rows = part.sheet.rows
    .filter((row) => row.number > part.header.row)
    .map((row) => ({ row, reason: classifier.skipReason(row) }));
  return { view, rows };
}

export interface RowsRead {
  readonly drafts: readonly RowDraft[];
  readonly skipped: readonly SkippedRow[];
}

export interface RowsContext {
  readonly habits: SheetHabits;
  readonly profile: ProfileId;
  readonly absoluteAddresses: boolean;
  readonly universeBase: 0 | 1;
  readonly pointPairs: boolean;
  readonly hyphens: HyphenHabit;
}

/** Tags that begin with a number and a dash, so that a date can be told for what it was. */
function tagHabit(part: SheetPart, { rows }: ClassifiedRows, profile: ProfileId): TagHabit {
  const column = part.plan.read.find((c) => c.id === 'tag')?.column;
  const leading = new Map<number, number>();
  for (const { row, reason } of rows) {
    const cell = row.cells.find((c) => c.column === column);
    if (reason !== null || cell?.kind !== 'text') continue;
    const number = /^(\d{1,2})-\d/u.exec(textOf(cell))?.[1];
    if (number !== undefined) leading.set(Number(number), (leading.get(Number(number)) ?? 0) + 1);
  }
  return { leading, monthFirst: profile === 'north-america' };
}

/** Reads the rows of a sheet in order. Read and skipped rows are all filled rows below the header. */
export function readRows(
  part: SheetPart,
  classified: ClassifiedRows,
  context: RowsContext,
): RowsRead {
  const tags = tagHabit(part, classified, context.profile);
  const reader = new RowReader({ part, view: classified.view, tags, ...context });
  const drafts: RowDraft[] = [];
  const skipped: SkippedRow[] = [];
  for (const { row, reason } of classified.rows) {
    if (reason === null) {
      const draft = reader.read(row);
      if (draft.number.quantity === 0) skipped.push({ row: row.number, reason: 'quantity 0' });
      else drafts.push(draft);
      continue;
    }
    skipped.push({ row: row.number, reason });
    if (reason === 'subtotal' || reason === 'repeated header') reader.forgetAbove();
    if (reason === 'struck through') reader.rememberAbove(row);
  }
  return { drafts, skipped };
}
