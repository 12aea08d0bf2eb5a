/** The cell that holds for a place: its own, the one above by a ditto mark, or that of its merged area. */
import type { SourceCell, SourceRow } from '../../document/source-workbook.ts';
import { columnLetters } from '../../document/source-workbook.ts';
import { isLeftBlank } from './answered-cells.ts';
import { isBlank, isDitto, textOf } from './cell-text.ts';
import type { ReadColumn } from './plan-columns.ts';
import type { SheetView } from './sheet-view.ts';

/** A cell to read, and where it came from when that is not its own place. */
export interface Effective {
  readonly cell: SourceCell;
  readonly own: SourceCell | undefined;
  readonly from: string | null;
  readonly merged: boolean;
}

/** Nothing to read; `why`: a ditto mark that repeats nothing. */
export type Found = Effective | { readonly why: string } | null;

interface Above {
  /** Null: the cell right above is blank. */
  readonly cell: SourceCell | null;
  readonly row: number;
}

export class CellsAbove {
  /** Per column, what a ditto mark refers to. */
  private readonly above = new Map<number, Above>();

  constructor(
    private readonly view: SheetView,
    /** A merged area that begins at or above it belongs to the header. */
    private readonly headerRow: number,
  ) {}

  /** Ditto marks do not reach over a subtotal or a repeated header. */
  forget(): void {
    this.above.clear();
  }

  /** A row that is skipped but still stands above the next one, such as a struck-through one. */
  remember(row: SourceRow): void {
    for (const cell of row.cells) {
      if (!isBlank(cell) && !isDitto(textOf(cell)))
        this.above.set(cell.column, { cell, row: row.number });
    }
  }

  /** What holds at a column of a row; the row has to be asked for every column that is read. */
  at(row: SourceRow, { column, id }: ReadColumn, own: SourceCell | undefined): Found {
    if (own !== undefined && !isBlank(own)) {
      if (own.kind !== 'text' || !isDitto(textOf(own))) {
        this.above.set(column, { cell: own, row: row.number });
        return { cell: own, own, from: null, merged: false };
      }
      if (id === 'tag') return { why: 'a ditto mark, but a tag cannot be repeated' };
      const above = this.above.get(column);
      if (above === undefined) return { why: 'a ditto mark, but nothing stands above it' };
      const from = `${columnLetters(column)}${above.row}`;
      if (above.cell === null)
        return { why: `a ditto mark, but the cell above it, ${from}, is blank` };
      return { cell: above.cell, own, from, merged: false };
    }
    const area = isLeftBlank(own) ? null : this.view.areaFromAbove(row.number, column);
    const cell =
      area === null || area.firstRow <= this.headerRow
        ? undefined
        : this.view.cell(area.firstRow, column);
    if (area === null || cell === undefined || isBlank(cell)) {
      this.above.set(column, { cell: null, row: row.number });
      return null;
    }
    this.above.set(column, { cell, row: area.firstRow });
    return { cell, own, from: `${columnLetters(column)}${area.firstRow}`, merged: true };
  }
}
