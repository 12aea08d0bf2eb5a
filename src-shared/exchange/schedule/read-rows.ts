/** All rows below the header: read, or skipped with a reason. */
import type { ProfileId, SkippedRow } from '../../document/project.ts';
import type { SourceRow, SourceSheet } from '../../document/source-workbook.ts';
import { isBlank, looseKey, textOf } from './cell-text.ts';
import { RowClassifier } from './classify-row.ts';
import type { FoundHeader } from './find-header.ts';
import type { ColumnPlan } from './plan-columns.ts';
import { RowReader } from './read-row.ts';
import type { ReadingLog } from './reading-log.ts';
import type { RowDraft } from './row-draft.ts';
import type { SheetHabits } from './sheet-habits.ts';
import { SheetView } from './sheet-view.ts';

/** True when every type that stands twice has one value in the column, a whole number from 1 to 512. */
export function isConstantPerType(
  rows: readonly SourceRow[],
  column: number,
  typeColumn: number | null,
): boolean {
  const first = new Map<string, string>();
  let repeated = false;
  for (const row of rows) {
    const value = textOf(row.cells.find((cell) => cell.column === column));
    const number = /^(\d{1,3})\s*(?:ch|chs|slots?)?$/iu.exec(value)?.[1];
    if (number === undefined || Number(number) < 1 || Number(number) > 512) continue;
    const type = looseKey(textOf(row.cells.find((cell) => cell.column === typeColumn)));
    const before = first.get(type);
    if (before === undefined) first.set(type, number);
    else if (before !== number) return false;
    else repeated = true;
  }
  return repeated;
}

/** Start addresses that pass 512 where no universe is stated anywhere are counted through all universes. */
function countsThroughUniverses(rows: readonly SourceRow[], plan: ColumnPlan): boolean {
  const address = plan.read.find((c) => c.id === 'address');
  if (address === undefined || plan.read.some((c) => c.id === 'universe')) return false;
  let past = false;
  for (const row of rows) {
    const cell = row.cells.find((c) => c.column === address.column);
    if (cell === undefined || isBlank(cell)) continue;
    const text = textOf(cell);
    if (/^\d+[/.:-]\d+$/u.test(text)) return false;
    if (/^\d{3,6}$/u.test(text) && Number(text) > 512) past = true;
  }
  return past;
}

export interface RowsRead {
  readonly drafts: readonly RowDraft[];
  readonly skipped: readonly SkippedRow[];
}

/** Reads the rows of a planned sheet in order. Read and skipped rows are all filled rows below the header. */
export function readRows(
  sheet: SourceSheet,
  header: FoundHeader,
  plan: ColumnPlan,
  habits: SheetHabits,
  log: ReadingLog,
  options: { readonly profile: ProfileId; readonly readHidden: boolean },
): RowsRead {
  const view = new SheetView(sheet);
  const rows = sheet.rows.filter((row) => row.number > header.row);
  const classifier = new RowClassifier(plan, view, options.readHidden);
  const reader = new RowReader({
    view,
    plan,
    habits,
    log,
    profile: options.profile,
    absoluteAddresses: countsThroughUniverses(rows, plan),
    headerRow: header.row,
  });
  const drafts: RowDraft[] = [];
  const skipped: SkippedRow[] = [];
  for (const row of rows) {
    const reason = classifier.skipReason(row);
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
