import { columnLetters } from '../../src-shared/document/source-workbook.ts';
import { SHEET_LAST_COLUMN } from './read-limits.ts';
import type { OpenRow } from './sheet-rows.ts';
import { attributeOf, isOn, type XmlAttributes } from './xml-walk.ts';

interface ColumnSpan {
  readonly first: number;
  readonly last: number;
}

/** Programs write at most one `col` element for each column. */
const MOST_SPANS = SHEET_LAST_COLUMN + 1;

/** Gathers the hidden ones of the `col` elements of a sheet (ECMA-376 part 1, 18.3.1.13). */
export class HiddenColumns {
  readonly #spans: ColumnSpan[] = [];

  add(attributes: XmlAttributes): void {
    const width = attributeOf(attributes, 'width');
    const flat = width !== undefined && Number(width) === 0;
    if (!flat && !isOn(attributeOf(attributes, 'hidden'))) return;
    const first = Number(attributeOf(attributes, 'min')) - 1;
    const last = Number(attributeOf(attributes, 'max')) - 1;
    if (first >= 0 && first <= last && this.#spans.length < MOST_SPANS) {
      this.#spans.push({ first, last });
    }
  }

  /** Hidden columns that hold a cell, zero-based, in order. */
  inUse(rows: readonly OpenRow[]): number[] {
    if (this.#spans.length === 0) return [];
    const used = new Set<number>();
    for (const row of rows) for (const cell of row.cells) used.add(cell.column);
    const isHidden = (column: number) =>
      this.#spans.some(({ first, last }) => first <= column && column <= last);
    return [...used].filter(isHidden).sort((a, b) => a - b);
  }
}

/** `C`, `F:G` … for columns in order; a long list is cut. */
export function columnSpans(columns: readonly number[]): string {
  const spans: ColumnSpan[] = [];
  for (const column of columns) {
    const last = spans.at(-1);
    if (last && last.last === column - 1) spans[spans.length - 1] = { ...last, last: column };
    else spans.push({ first: column, last: column });
  }
  const shown = spans.slice(0, 20).map(({ first, last }) => {
    const from = columnLetters(first);
    return first === last ? from : `${from}:${columnLetters(last)}`;
  });
  return shown.join(', ') + (spans.length > shown.length ? ' …' : '');
}
