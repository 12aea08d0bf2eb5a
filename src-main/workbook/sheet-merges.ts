import type { MergedArea } from '../../src-shared/document/source-workbook.ts';
import type { OpenRow } from './sheet-rows.ts';

/** Merged areas that cross the row at hand, by column; none overlaps another. */
class ActiveMerges {
  readonly #areas: MergedArea[] = [];

  /** Place of the first area that ends at or right of the column. */
  #placeOf(column: number): number {
    let low = 0;
    let high = this.#areas.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((this.#areas[middle]?.lastColumn ?? 0) < column) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  /** Adds an area unless it overlaps one that is still open; tells whether it did. */
  add(area: MergedArea): boolean {
    const place = this.#placeOf(area.firstColumn);
    let past = place;
    for (; past < this.#areas.length; past++) {
      const other = this.#areas[past];
      if (!other || other.firstColumn > area.lastColumn) break;
      if (other.lastRow >= area.firstRow) return false;
    }
    this.#areas.splice(place, past - place, area);
    return true;
  }

  /** The area over a cell, if any. */
  over(row: number, column: number): MergedArea | undefined {
    const area = this.#areas[this.#placeOf(column)];
    return area && area.firstColumn <= column && area.lastRow >= row ? area : undefined;
  }
}

export interface SettledMerges {
  readonly merges: MergedArea[];
  /** Values that lay hidden beneath a merged area and were taken out of the rows. */
  readonly covered: number;
  /** Areas dropped because they overlap another. */
  readonly overlapping: number;
}

/**
 * Sorts merged areas, drops overlapping ones and takes covered cells out of the rows: only the
 * first cell of an area shows. Never walks an area cell by cell.
 * @param rows in order; changed in place, emptied rows are removed
 */
export function settleMerges(found: readonly MergedArea[], rows: OpenRow[]): SettledMerges {
  const sorted = [...found].sort(
    (a, b) => a.firstRow - b.firstRow || a.firstColumn - b.firstColumn,
  );
  const active = new ActiveMerges();
  const merges: MergedArea[] = [];
  let next = 0;
  let covered = 0;
  const addUpTo = (row: number) => {
    for (; next < sorted.length; next++) {
      const area = sorted[next];
      if (!area || area.firstRow > row) return;
      if (active.add(area)) merges.push(area);
    }
  };
  for (const row of sorted.length === 0 ? [] : rows) {
    addUpTo(row.number);
    const kept = row.cells.filter((cell) => {
      const area = active.over(row.number, cell.column);
      return !area || (area.firstRow === row.number && area.firstColumn === cell.column);
    });
    covered += row.cells.length - kept.length;
    row.cells = kept;
  }
  addUpTo(Number.POSITIVE_INFINITY);
  if (covered > 0) {
    const left = rows.filter((row) => row.cells.length > 0);
    rows.length = 0;
    for (const row of left) rows.push(row);
  }
  return { merges, covered, overlapping: sorted.length - merges.length };
}
