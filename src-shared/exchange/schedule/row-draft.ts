/** One source row as read: values in SI units, nothing decided that needs other rows. */
import type { SourceColumnId } from '../../columns/column-table.ts';
import type { SourceCell, SourceRow } from '../../document/source-workbook.ts';
import type { LocksOfRow } from '../export/own-columns.ts';
import type { LoadReading } from './read-load-cell.ts';
import type { SheetPart } from './sheet-part.ts';

/** A load in VA or A that waits for a power factor or a supply. */
export interface PendingLoad {
  readonly column: number;
  readonly raw: string;
  readonly reading: Exclude<LoadReading, { readonly kind: 'watts' }>;
}

/** Values of a run that no column of a schedule holds; written by our own export. */
export interface OwnRunValues {
  readonly homeRunConductor: string | null;
  readonly dataOutput: string | null;
}

export interface RowDraft {
  /** The sheet it stands on. */
  readonly part: SheetPart;
  readonly source: SourceRow;
  readonly text: Partial<Record<SourceColumnId, string>>;
  readonly number: Partial<Record<SourceColumnId, number>>;
  readonly pendingLoad: PendingLoad | null;
  /** Columns whose cell said something that could not be read. */
  readonly unread: ReadonlySet<SourceColumnId>;
  /** Ids of ours: one for each fixture of the row. */
  readonly rowIds: readonly string[];
  readonly locks: LocksOfRow;
  /** What our own columns say of the row's run. */
  readonly ofRun: OwnRunValues;
  /** The rows of several files it was made of, the first file's first, with the fixtures each stands for; empty: of one. */
  readonly mergedFrom: readonly { readonly row: RowDraft; readonly of: number }[];
  /** The row each value came from where it is not this one. */
  readonly givenBy: ReadonlyMap<SourceColumnId, RowDraft>;
}

/** The row that gave a value, or would have. */
export function giverOf(row: RowDraft, id: SourceColumnId): RowDraft {
  return row.givenBy.get(id) ?? row;
}

/** Zero-based column of the first of `ids` that the row's sheet has; null: none of them. */
export function columnAmong(row: RowDraft, ids: readonly SourceColumnId[]): number | null {
  for (const id of ids) {
    const found = row.part.plan.read.find((c) => c.id === id);
    if (found !== undefined) return found.column;
  }
  return null;
}

export function cellAt(row: RowDraft, column: number): SourceCell | undefined {
  return row.source.cells.find((cell) => cell.column === column);
}
