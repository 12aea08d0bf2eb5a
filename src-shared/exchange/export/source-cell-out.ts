import type { CellContent } from './export-table.ts';

/** A cell of the engineer's own as it goes back. */
export interface SourceCellOut {
  readonly value: CellContent;
  /** What the source file had, when that is no longer what the cell says; null: it is. */
  readonly was: string | null;
  /** Said in place of that. */
  readonly remark?: string;
  /** The sheet's way of writing cannot say the value; `value` is what it has. */
  readonly unsayable?: true;
}
