/**
 * What goes into an engineer's own workbook, as plain data; `src-main` writes it into the package.
 * Nothing is inserted in the middle of a foreign sheet: our columns stand right of its used range,
 * new rows below its last one, our sheets behind its own.
 */
import type { ProjectSheet } from '../project-sheets.ts';
import type { ExportCell, ExportColumn, ExportTable } from './export-table.ts';

/** A cell of the engineer's own that says something else now, or that a finding marks. */
export interface CellMarkUp {
  /** Counted from 1. */
  readonly row: number;
  /** Zero-based. */
  readonly column: number;
  /** `changed` cells take the new value and keep their style; the others keep value, formula and all. */
  readonly cell: ExportCell;
}

export interface SheetMarkUp {
  readonly sheet: string;
  /** The row right above the data, counted from 1: our headers stand in it. */
  readonly headerRow: number;
  /** Where our columns stood in a file that came back with them, zero-based, by header; they are replaced. */
  readonly ownColumnsBefore: readonly number[];
  readonly cells: readonly CellMarkUp[];
  /** Our columns, in order, to stand right of the used range (or from the first of `ownColumnsBefore` on). */
  readonly columns: readonly ExportColumn[];
  /** Cells of our columns by row, counted from 1. */
  readonly rows: ReadonlyMap<number, readonly ExportCell[]>;
  /** Fixtures the sheet has no row for: values by zero-based column of the engineer's, then our columns. */
  readonly added: readonly {
    readonly theirs: readonly { readonly column: number; readonly cell: ExportCell }[];
    readonly ours: readonly ExportCell[];
  }[];
}

export interface MarkUpPlan {
  readonly sheets: readonly SheetMarkUp[];
  /** Whole sheets of ours, in order; a sheet of ours from an earlier export is replaced. */
  readonly tables: readonly ExportTable[];
  /** Sheets that carry types, supplies, lines and settings, in order; replaced in the same way. */
  readonly supports: readonly ProjectSheet[];
}
