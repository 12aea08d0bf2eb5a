import type { MergedArea } from '../../src-shared/document/source-workbook.ts';
import { SHEET_LAST_COLUMN, SHEET_LAST_ROW } from './read-limits.ts';

export interface CellAddress {
  /** From 1. */
  readonly row: number;
  /** From 0. */
  readonly column: number;
}

/** Zero-based column of `A`, `AA` …; undefined beyond the last column `XFD`. */
export function columnOf(letters: string): number | undefined {
  let count = 0;
  for (const letter of letters.toUpperCase()) {
    const place = letter.charCodeAt(0) - 64;
    if (place < 1 || place > 26 || count > SHEET_LAST_COLUMN) return undefined;
    count = count * 26 + place;
  }
  return count === 0 || count - 1 > SHEET_LAST_COLUMN ? undefined : count - 1;
}

/** `B12` or `$B$12` as row and column; undefined for anything else, or beyond the sheet. */
export function parseAddress(text: string): CellAddress | undefined {
  const match = /^\$?([A-Za-z]{1,3})\$?([0-9]{1,7})$/.exec(text.trim());
  if (!match) return undefined;
  const column = columnOf(match[1] ?? '');
  const row = Number(match[2]);
  if (column === undefined || row < 1 || row > SHEET_LAST_ROW) return undefined;
  return { row, column };
}

/** `B2:D5` or `B2` as an area, corners put in order; undefined for anything else. */
export function parseArea(reference: string): MergedArea | undefined {
  const [from = '', to = from, ...more] = reference.split(':');
  const a = parseAddress(from);
  const b = parseAddress(to);
  if (!a || !b || more.length > 0) return undefined;
  return {
    firstRow: Math.min(a.row, b.row),
    lastRow: Math.max(a.row, b.row),
    firstColumn: Math.min(a.column, b.column),
    lastColumn: Math.max(a.column, b.column),
  };
}
