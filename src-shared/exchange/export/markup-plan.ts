/**
 * What goes into an engineer's own workbook, as plain data; `src-main` writes it into the package.
 * Nothing is inserted in the middle of a foreign sheet: our columns stand right of its used range,
 * new rows below its last one, our sheets behind its own.
 */
import type { MergedArea } from '../../document/source-workbook.ts';
import type { ProjectSheet } from '../project-sheets.ts';
import type { ExportCell, ExportColumn, ExportTable } from './export-table.ts';

/** A cell of the engineer's own that says something else now, or that a finding marks. */
export interface CellMarkUp {
  /** Counted from 1. */
  readonly row: number;
  /** Zero-based. */
  readonly column: number;
  /** A `changed` cell takes the new value and keeps its style; any other keeps value, formula and all. */
  readonly cell: ExportCell;
}

/** A fixture the sheet has no row for. */
export interface AddedRow {
  readonly row: number;
  /** A row of the sheet whose looks it takes; null: none. */
  readonly like: number | null;
  /** Values by zero-based column of the engineer's. */
  readonly theirs: readonly { readonly column: number; readonly cell: ExportCell }[];
  readonly ours: readonly ExportCell[];
}

export interface SheetMarkUp {
  readonly sheet: string;
  /** The row right above the data, counted from 1: our headers stand in it. */
  readonly headerRow: number;
  /** Where our columns stood in a file that came back with them, zero-based; they are replaced. */
  readonly ownColumnsBefore: readonly number[];
  /** Columns that were read as something, zero-based: what they say is the document's. */
  readonly columnsRead: readonly number[];
  readonly cells: readonly CellMarkUp[];
  /** Our columns, in order. */
  readonly columns: readonly ExportColumn[];
  /** The first of our columns, zero-based. */
  readonly firstColumn: number;
  /** Cells of our columns by row, counted from 1. */
  readonly rows: ReadonlyMap<number, readonly ExportCell[]>;
  readonly added: readonly AddedRow[];
}

export interface MarkUpPlan {
  readonly sheets: readonly SheetMarkUp[];
  /** Whole sheets of ours, in order; a sheet of ours from an earlier export is replaced. */
  readonly tables: readonly ExportTable[];
  /** Sheets that carry types, supplies, lines and settings, in order; replaced in the same way. */
  readonly supports: readonly ProjectSheet[];
  /** What could not be written where it belongs, for the person who exports. */
  readonly remarks: readonly string[];
}

/** What the plan has to know of a sheet as it stands in the file. */
export interface SheetFacts {
  /** The merged area a cell belongs to; null: none. */
  mergeAt(row: number, column: number): MergedArea | null;
  /** Why the content of a cell cannot be replaced; null: it can. */
  whyFixed(row: number, column: number): string | null;
  /** Where `count` columns of ours begin, zero-based. */
  firstColumn(count: number): number;
  /** First row below everything, counted from 1. */
  readonly firstFreeRow: number;
  /** Rows with something in them, ours left out; null: not known. */
  readonly filledRows: readonly number[] | null;
  /** Text of a cell as its format shows it; null: not known. */
  shown(row: number, column: number): string | null;
}
