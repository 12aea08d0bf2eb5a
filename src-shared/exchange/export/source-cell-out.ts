import type { CellContent } from './export-table.ts';

/** A cell of the engineer's own as it goes back. */
export interface SourceCellOut {
  readonly value: CellContent;
  /** What the source file had, when that is no longer what the cell says; null: it is. */
  readonly was: string | null;
  /** Said in place of that. */
  readonly remark?: string;
  /** The engineer has overruled this cell: it is written whatever another file says. */
  readonly overruled?: true;
  /** Why the sheet's way of writing cannot say the value; `value` is what it has. */
  readonly unsayable?: string;
}

export const unknownRemark =
  'Not known: what the source file has here could not be read, such as a formula without a stored result';

export const disputedRemark =
  'Not known: the files say different things here, or what they say could not be read';

/** The nearest content above a cell: what a blank cell or a ditto mark may have been filled from. */
export interface Above {
  readonly content: CellContent;
  /** It could not be read. */
  readonly unread: boolean;
}
