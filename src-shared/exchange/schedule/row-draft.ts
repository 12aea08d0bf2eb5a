/** One source row as read: values in SI units, nothing decided that needs other rows. */
import type { SourceColumnId } from '../../columns/column-table.ts';
import type { SourceRow } from '../../document/source-workbook.ts';
import type { LocksOfRow } from '../export/own-columns.ts';
import type { LoadReading } from './read-load-cell.ts';

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
  readonly source: SourceRow;
  readonly text: Partial<Record<SourceColumnId, string>>;
  readonly number: Partial<Record<SourceColumnId, number>>;
  readonly pendingLoad: PendingLoad | null;
  /** Columns whose cell said something that could not be read. */
  readonly unread: ReadonlySet<SourceColumnId>;
  readonly rowId: string | null;
  readonly locks: LocksOfRow;
  /** What our own columns say of the row's run. */
  readonly ofRun: OwnRunValues;
}
