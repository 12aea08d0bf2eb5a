/** Cells of a table as values, with readings for what is not plain. */
import type { SourceCell, SourceRow } from '../../document/source-workbook.ts';
import type { QuantityKind } from '../../units/quantity.ts';
import {
  type CellReading,
  MERGED_WITH,
  refused,
  told,
  withNote,
} from '../schedule/cell-reading.ts';
import { cleanText, textOf, whyNoValue } from '../schedule/cell-text.ts';
import { habitOfUnit, readQuantityCell } from '../schedule/read-quantity-cell.ts';
import type { ReadingLog } from '../schedule/reading-log.ts';
import { cellOf, type TableSheet } from './table-sheet.ts';

export class TableReader<F extends string> {
  constructor(
    readonly table: TableSheet<F>,
    private readonly log: ReadingLog,
  ) {}

  /** A reading of a cell of this table. */
  tell<T extends string | number>(
    row: SourceRow,
    cell: SourceCell,
    column: string | null,
    reading: CellReading<T>,
  ): T | null {
    const place = { sheet: this.table.sheet.name, row: row.number, column: cell.column };
    if (row.cells.includes(cell)) return this.log.take(place, cell.text, column, reading);
    const own = row.cells.find((c) => c.column === cell.column)?.text ?? '';
    const note = `${MERGED_WITH} the cell above`;
    return this.log.take(place, own, column, withNote(reading, 'sure', note));
  }

  /** Tells of a row that says something of a record and does not name it. */
  tellNameless(row: SourceRow, what: string): void {
    const [key, ...others] = this.table.columns.map(({ field }) => cellOf(this.table, row, field));
    const own = [key, ...others].filter((cell) => cell !== undefined && row.cells.includes(cell));
    const [first] = own;
    if (own.length < 2 || first === undefined) return;
    const note = `this row names no ${what}: it was not read`;
    this.tell(row, first, null, told<string>(null, 'guess', note));
  }

  /** Words of a field; null when blank or without value. */
  text(row: SourceRow, field: F, column: string | null = null): string | null {
    const cell = cellOf(this.table, row, field);
    if (cell === undefined) return null;
    const why = whyNoValue(cell);
    if (why !== null) return this.tell(row, cell, column, refused(why));
    return textOf(cell) || null;
  }

  /** A quantity in base units; `unit` is that of a bare number. Never negative. */
  quantity(
    row: SourceRow,
    field: F,
    kind: QuantityKind,
    unit: string | null,
    column: string | null = null,
  ): number | null {
    const cell = cellOf(this.table, row, field);
    if (cell === undefined) return null;
    const reading = readQuantityCell(cell, kind, habitOfUnit(unit));
    if (reading.value !== null && reading.value < 0) {
      return this.tell(row, cell, column, refused('it cannot be negative'));
    }
    return this.tell(row, cell, column, reading);
  }

  /** What `parse` makes of a field's text: a value, or the reason why not. */
  parsed<T>(
    row: SourceRow,
    field: F,
    column: string | null,
    parse: (text: string) => {
      readonly value: T;
      readonly refusal: string | null;
      readonly note?: string;
    },
  ): T | null {
    const cell = cellOf(this.table, row, field);
    if (cell === undefined) return null;
    const why = whyNoValue(cell) ?? (cell.kind === 'date' ? 'the cell holds a date' : null);
    if (why !== null) {
      this.tell(row, cell, column, refused(why));
      return null;
    }
    const result = parse(cleanText(cell.text));
    if (result.refusal !== null) this.tell(row, cell, column, refused(result.refusal));
    else if (result.note !== undefined)
      this.tell(row, cell, column, told(null, 'likely', result.note));
    return result.value;
  }

  /** `yes` or `no`; null when blank or neither. */
  truth(row: SourceRow, field: F): boolean | null {
    const cell = cellOf(this.table, row, field);
    if (cell === undefined) return null;
    const value = truthOf(cell);
    if (value === null) this.tell(row, cell, null, refused('write yes or no'));
    return value;
  }

  /** A row all of whose filled cells are struck through is deleted. */
  isStruck(row: SourceRow): boolean {
    const struck = row.cells.length > 0 && row.cells.every((cell) => cell.struck === true);
    const [first] = row.cells;
    if (struck && first !== undefined) {
      this.tell(
        row,
        first,
        null,
        told<string>(null, 'sure', 'the row is struck through: left out'),
      );
    }
    return struck;
  }
}

/** `yes`, `y`, `true`, `x` … as a truth value; null for other words. */
export function truthOf(cell: SourceCell): boolean | null {
  if (typeof cell.value === 'boolean') return cell.value;
  const word = textOf(cell).toLowerCase();
  if (['yes', 'y', 'true', 'x', '1', 'ok', '✓', '✔'].includes(word)) return true;
  return ['no', 'n', 'false', '0', '✗', '✘'].includes(word) ? false : null;
}
