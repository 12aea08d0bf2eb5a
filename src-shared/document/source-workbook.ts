/**
 * What a reader hands over: the cells of a workbook or a csv file as plain data.
 * Produced by the readers of the host, consumed by `exchange/`. JSON only.
 */

/** How a cell stood in the file. */
export interface SourceCell {
  /** Zero-based column. */
  readonly column: number;
  /** Text as a person would see it where the file says so, else the stored text. */
  readonly text: string;
  /** Stored value: text, number or truth value; null for a formula without a cached value. */
  readonly value: string | number | boolean | null;
  readonly kind: 'text' | 'number' | 'boolean' | 'date' | 'error';
  /** The formula, when the cell has one. `value` is then the cached result, or null if there is none. */
  readonly formula?: string;
  /** The text of a comment or note on the cell. */
  readonly note?: string;
  /** The whole text of the cell is struck through. */
  readonly struck?: true;
  /** The struck-through part of a text that is struck in part; `text` and `value` are without it. */
  readonly struckText?: string;
  /** `RRGGBB` of a font colour the file sets and that is not black or white: revisions are marked so. */
  readonly colour?: string;
}

export interface SourceRow {
  /** Row number as the spreadsheet counts: 1 is the first. */
  readonly number: number;
  readonly hidden: boolean;
  /** Hidden by a filter, not by hand; `hidden` is then true as well. */
  readonly filtered?: true;
  /** Non-empty cells in column order. */
  readonly cells: readonly SourceCell[];
}

/** A merged area, corners included; rows count from 1, columns from 0. */
export interface MergedArea {
  readonly firstRow: number;
  readonly lastRow: number;
  readonly firstColumn: number;
  readonly lastColumn: number;
}

export interface SourceSheet {
  readonly name: string;
  readonly hidden: boolean;
  /** Rows with at least one non-empty cell, in order. */
  readonly rows: readonly SourceRow[];
  readonly merges: readonly MergedArea[];
  /** Zero-based columns that are hidden; they are read like the others. */
  readonly hiddenColumns?: readonly number[];
}

export interface SourceWorkbook {
  readonly kind: 'xlsx' | 'csv';
  /** File name without folders. */
  readonly fileName: string;
  readonly sheets: readonly SourceSheet[];
  /** Things the reader wants said: "3 external links were not followed". */
  readonly remarks: readonly string[];
}

/** `A`, `Z`, `AA` … for a zero-based column. */
export function columnLetters(column: number): string {
  let letters = '';
  for (let rest = column + 1; rest > 0; rest = Math.floor((rest - 1) / 26)) {
    letters = String.fromCharCode(65 + ((rest - 1) % 26)) + letters;
  }
  return letters;
}

/** `Schedule!K12`: the way every reading and finding names a cell. Names with blanks or quotes are quoted. */
export function cellName(sheet: string, row: number, column: number): string {
  const plain = /^[\p{L}_][\p{L}\p{N}_.]*$/u.test(sheet);
  const shown = plain ? sheet : `'${sheet.replaceAll("'", "''")}'`;
  return `${shown}!${columnLetters(column)}${row}`;
}
