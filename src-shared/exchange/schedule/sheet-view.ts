/** A sheet's cells by place, and its merged areas by column. */
import type {
  MergedArea,
  SourceCell,
  SourceRow,
  SourceSheet,
} from '../../document/source-workbook.ts';

export class SheetView {
  private readonly byNumber = new Map<number, SourceRow>();
  /** Areas over more than one row, by their first column, in order of rows. */
  private readonly tall = new Map<number, MergedArea[]>();
  /** Number of columns of the widest area that begins in a row. */
  private readonly widest = new Map<number, number>();

  constructor(readonly sheet: SourceSheet) {
    for (const row of sheet.rows) this.byNumber.set(row.number, row);
    for (const area of sheet.merges) {
      const width = area.lastColumn - area.firstColumn + 1;
      this.widest.set(area.firstRow, Math.max(width, this.widest.get(area.firstRow) ?? 1));
      if (area.lastRow <= area.firstRow) continue;
      const list = this.tall.get(area.firstColumn);
      if (list === undefined) this.tall.set(area.firstColumn, [area]);
      else list.push(area);
    }
    for (const list of this.tall.values()) list.sort((a, b) => a.firstRow - b.firstRow);
  }

  row(number: number): SourceRow | undefined {
    return this.byNumber.get(number);
  }

  cell(row: number, column: number): SourceCell | undefined {
    return this.byNumber.get(row)?.cells.find((cell) => cell.column === column);
  }

  /** Columns of the widest merged area beginning in a row; 1 when there is none. */
  widestMerge(row: number): number {
    return this.widest.get(row) ?? 1;
  }

  /** The merged area that a cell continues downwards from its first row; null when none. */
  areaFromAbove(row: number, column: number): MergedArea | null {
    const list = this.tall.get(column);
    if (list === undefined) return null;
    let low = 0;
    let high = list.length - 1;
    while (low <= high) {
      const middle = (low + high) >> 1;
      const area = list[middle];
      if (area === undefined) return null;
      if (row <= area.firstRow) high = middle - 1;
      else if (row > area.lastRow) low = middle + 1;
      else return area;
    }
    return null;
  }
}
