/** A reading of a row's cell, told after the row was read. */
import type { SourceColumnId } from '../../columns/column-table.ts';
import type { Confidence } from '../../document/project.ts';
import type { LogPlace } from './reading-log.ts';
import { cellAt, columnAmong, giverOf, type RowDraft } from './row-draft.ts';

export interface RowTelling {
  readonly value: string | number | null;
  readonly confidence: Confidence;
  readonly note: string;
  readonly offer?: string | undefined;
}

/**
 * Tells it at the cell of `id` in the row that gave the value; where the sheet has no such column, at
 * the first of `otherwise`, else at the first column.
 */
export function tellRow(
  row: RowDraft,
  id: SourceColumnId,
  { value, confidence, note, offer }: RowTelling,
  otherwise: readonly SourceColumnId[] = [],
): void {
  const from = giverOf(row, id);
  const column = columnAmong(from, [id, ...otherwise]) ?? 0;
  const raw = cellAt(from, column)?.text ?? '';
  from.part.log.add(placeOf(from, column), raw, id, value, confidence, note, offer);
}

/** Where a column of a row stands. */
export function placeOf({ part, source }: RowDraft, column: number): LogPlace {
  return { sheet: part.sheet.name, row: source.number, column };
}
