/** Column widths and row heights that show everything. Widths in characters, heights in points. */
import {
  contentOf,
  type ExportCell,
  type ExportColumn,
  type ExportTable,
  isMarked,
} from '../../src-shared/exchange/export/export-table.ts';
import { formatNumber } from '../../src-shared/units/format-quantity.ts';

export interface ColumnFit {
  readonly width: number;
  readonly wrap: boolean;
}

const LINE_HEIGHT = 12.5;
const NARROWEST = 6;
/** Letters of running text in one unit of width, on the safe side. */
const LETTERS_PER_UNIT = 1.16;
/** Text wider than this is broken into lines. */
const WIDEST = 32;
/** Room beside the text: padding, and in headers the filter button. */
const PADDING = 2.2;
const BUTTON = 2;

/** Characters a cell shows. */
function shownLength(cell: ExportCell, column: ExportColumn): number {
  const value = contentOf(cell);
  if (value === null) return 0;
  const mark = isMarked(cell) && cell.severity !== null ? 3 : 0;
  if (typeof value === 'number') {
    const text = column.decimals === null ? String(value) : formatNumber(value, column.decimals);
    return Math.min(text.length, 14) + mark;
  }
  let longest = 0;
  for (const line of String(value).split('\n')) longest = Math.max(longest, line.length);
  return longest + mark;
}

function longestWord(text: string): number {
  return text.split(/[\s/]+/u).reduce((longest, word) => Math.max(longest, word.length), 0);
}

export function fitColumns(table: ExportTable): ColumnFit[] {
  return table.columns.map((column, place) => {
    let longest = 0;
    for (const row of table.rows) {
      const cell = row[place];
      if (cell !== undefined) longest = Math.max(longest, shownLength(cell, column));
    }
    const header = Math.max(
      longestWord(column.header) + BUTTON,
      Math.ceil(column.header.length / 3) + BUTTON,
    );
    const most = column.wrap ?? WIDEST;
    const letters = Math.min(longest, most);
    const content = letters * (letters > 20 ? 0.9 : 0.96) + PADDING;
    const width = Math.max(NARROWEST, content, Math.min(header, WIDEST), column.atLeast ?? 0);
    return { width: Math.round(width * 10) / 10, wrap: longest > most };
  });
}

/** Lines a text takes in a column, broken at blanks. */
export function linesOf(text: string, width: number): number {
  const room = Math.max(1, width * LETTERS_PER_UNIT - 2);
  let lines = 0;
  for (const paragraph of text.split('\n')) {
    let used = 0;
    lines += 1;
    for (const word of paragraph.split(' ')) {
      if (used > 0 && used + 1 + word.length > room) {
        lines += 1;
        used = 0;
      }
      used += (used > 0 ? 1 : 0) + word.length;
      while (used > room) {
        lines += 1;
        used -= room;
      }
    }
  }
  return lines;
}

/** Height of a row; null where it is one line high. */
export function rowHeight(row: readonly ExportCell[], fits: readonly ColumnFit[]): number | null {
  let most = 1;
  fits.forEach(({ width, wrap }, place) => {
    const cell = row[place];
    const value = cell === undefined ? null : contentOf(cell);
    if (!wrap || typeof value !== 'string') return;
    most = Math.max(most, linesOf(value, width));
  });
  return most === 1 ? null : Math.min(409, most * LINE_HEIGHT + 2);
}

export function headerHeight(table: ExportTable, fits: readonly ColumnFit[]): number {
  let most = 1;
  table.columns.forEach(({ header }, place) => {
    most = Math.max(most, linesOf(header, fits[place]?.width ?? NARROWEST));
  });
  return Math.min(409, most * LINE_HEIGHT + 4);
}
