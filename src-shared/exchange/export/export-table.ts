/** A sheet of the marked-up schedule as plain data: what every table of the export is made of. */
import type { ColumnId } from '../../columns/column-table.ts';
import type { Severity } from '../../limits/limit.ts';

export type CellContent = string | number | boolean | null;

/** A cell with something to say beyond its value. */
export interface MarkedCell {
  readonly value: CellContent;
  /** Worst severity of the findings at this cell; null: none. */
  readonly severity: Severity | null;
  /** The value is not the one of the source file. */
  readonly changed: boolean;
  /** Whole text of the cell's note; null: no note. */
  readonly note: string | null;
}

export type ExportCell = CellContent | MarkedCell;

export interface ExportColumn {
  readonly header: string;
  /** What the column is in the table of columns; null: a column of the engineer's own or of this table alone. */
  readonly columnId: ColumnId | null;
  readonly kind: 'text' | 'number';
  /** Decimals shown; null: as many as the number has. Values themselves are never rounded. */
  readonly decimals: number | null;
  /** Whole numbers are shown without decimals. */
  readonly wholeBare?: boolean;
  /** Typed by the engineer, or solved. */
  readonly ink: 'typed' | 'solved';
  /** Explains the column; becomes the note of the header. */
  readonly help: string | null;
  /** Its texts say the severity's letter themselves. */
  readonly saysLetter?: boolean;
  /** Long text: broken into lines within this width, in characters. */
  readonly wrap?: number;
  /** Least width in characters, for columns people write in. */
  readonly atLeast?: number;
}

/** Cells stand in the order of `columns`; null is unknown and stays empty. */
export interface ExportTable {
  readonly name: string;
  /** Lines of text above the header. */
  readonly lead: readonly string[];
  readonly columns: readonly ExportColumn[];
  readonly rows: readonly (readonly ExportCell[])[];
}

export function isMarked(cell: ExportCell): cell is MarkedCell {
  return typeof cell === 'object' && cell !== null;
}

export function contentOf(cell: ExportCell): CellContent {
  return isMarked(cell) ? cell.value : cell;
}

/** A column of text. */
export function textColumn(
  header: string,
  more: Pick<ExportColumn, 'wrap' | 'atLeast' | 'saysLetter'> = {},
): ExportColumn {
  return {
    header,
    columnId: null,
    kind: 'text',
    decimals: null,
    ink: 'solved',
    help: null,
    ...more,
  };
}

/** A column of numbers. */
export function numberColumn(
  header: string,
  decimals: number | null,
  wholeBare = false,
): ExportColumn {
  return { header, columnId: null, kind: 'number', decimals, wholeBare, ink: 'solved', help: null };
}
