/** Merged areas of a sheet. */
import type { MergedArea } from '../../../src-shared/document/source-workbook.ts';

/** Merged areas by row, so that a look-up need not walk them all. */
export class MergeIndex {
  private readonly byRow = new Map<number, MergedArea[]>();
  private readonly tall: MergedArea[] = [];

  constructor(merges: readonly MergedArea[]) {
    for (const area of merges) {
      // A merge over the whole sheet must not be laid out row by row.
      if (area.lastRow - area.firstRow > 5000) this.tall.push(area);
      else {
        for (let row = area.firstRow; row <= area.lastRow; row += 1) {
          const list = this.byRow.get(row);
          if (list === undefined) this.byRow.set(row, [area]);
          else list.push(area);
        }
      }
    }
  }

  at(row: number, column: number): MergedArea | null {
    const has = (area: MergedArea) =>
      row >= area.firstRow &&
      row <= area.lastRow &&
      column >= area.firstColumn &&
      column <= area.lastColumn;
    return this.byRow.get(row)?.find(has) ?? this.tall.find(has) ?? null;
  }
}
