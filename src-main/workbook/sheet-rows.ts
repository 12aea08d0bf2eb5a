import {
  cellName,
  type SourceCell,
  type SourceRow,
} from '../../src-shared/document/source-workbook.ts';
import { type CellAddress, columnOf, parseAddress } from './cell-address.ts';
import { readCellValue, type StoredCell } from './cell-value.ts';
import { counted, READ_LIMITS, SHEET_LAST_COLUMN, SHEET_LAST_ROW } from './read-limits.ts';
import { GET_A_FRESH_COPY, refuse } from './refusal.ts';
import { moveFormula } from './shared-formula.ts';
import { plural, type SheetContext } from './sheet-context.ts';

/** A cell and row while their sheet is still being read. */
export type OpenCell = { -readonly [Key in keyof SourceCell]: SourceCell[Key] };
export interface OpenRow extends SourceRow {
  filtered?: true;
  cells: OpenCell[];
}

/** An `f` element; `shared` is the number of its group. */
export interface StoredFormula {
  readonly text: string;
  readonly shared: string | undefined;
}

interface SharedMaster {
  readonly text: string;
  readonly at: CellAddress;
}

/** Builds the rows of one sheet from its `row` and `c` elements in file order. */
export class SheetRows {
  readonly rows: OpenRow[] = [];
  /** Filled cells that point to a style the workbook lacks. */
  lostStyles = 0;
  readonly #sheet: string;
  readonly #context: SheetContext;
  readonly #masters = new Map<string, SharedMaster>();
  #rowNumber = 0;
  #rowNamed = false;
  #hidden = false;
  #cells: OpenCell[] = [];
  #column = -1;
  #rowsInOrder = true;
  #cellsInOrder = true;
  #misplaced = 0;
  #repeated = 0;

  constructor(sheet: string, context: SheetContext) {
    this.#sheet = sheet;
    this.#context = context;
  }

  startRow(reference: string | undefined, hidden: boolean): void {
    const number = Number(reference);
    this.#rowNamed = reference !== undefined;
    if (this.#rowNamed && !(Number.isInteger(number) && number >= 1)) this.#noPlace(reference);
    this.#rowNumber = this.#rowNamed ? number : this.#rowNumber + 1;
    this.#hidden = hidden;
    this.#cells = [];
    this.#column = -1;
    this.#cellsInOrder = true;
    if (this.#rowNumber > SHEET_LAST_ROW) this.#outside('row', `row ${counted(SHEET_LAST_ROW)}`);
  }

  /** Takes the place of the next cell: from its reference, or one to the right of the last. */
  placeCell(reference: string | undefined): void {
    if (reference === undefined) {
      this.#column++;
      if (this.#column > SHEET_LAST_COLUMN) this.#outside('column', 'column XFD');
      return;
    }
    const address = parseAddress(reference) ?? this.#badReference(reference);
    if (address.row !== this.#rowNumber) {
      if (this.#rowNamed || this.#column >= 0) this.#misplaced++;
      else this.#rowNumber = address.row;
    }
    this.#rowNamed = true;
    if (address.column <= this.#column) this.#cellsInOrder = false;
    this.#column = address.column;
  }

  endCell(stored: StoredCell, formula: StoredFormula | undefined): void {
    const column = this.#column;
    const reading = readCellValue(
      stored,
      this.#context,
      () =>
        `${this.#context.parts.fileName}, cell ${cellName(this.#sheet, this.#rowNumber, column)}`,
    );
    if (!reading) return;
    const { text } = reading;
    this.#context.budget.addCell(column, this.#rowNumber, text, this.#sheet);
    const cell: OpenCell = {
      column,
      text,
      value: reading.value,
      kind: reading.kind,
    };
    if (stored.style !== 0 && !this.#context.styles.byPlace[stored.style]) this.lostStyles++;
    if (formula) {
      if (formula.text.length > READ_LIMITS.charactersOfCell) this.#longFormula(column);
      cell.formula = this.#formulaText(formula);
      this.#context.budget.addText(cell.formula, this.#sheet);
    }
    if (reading.struck) cell.struck = true;
    if (reading.struckText !== undefined) cell.struckText = reading.struckText;
    if (reading.colour !== undefined) cell.colour = reading.colour;
    this.#cells.push(cell);
  }

  endRow(): void {
    if (this.#cells.length === 0) return;
    const last = this.rows.at(-1);
    if (last && last.number >= this.#rowNumber) this.#rowsInOrder = false;
    this.#context.budget.addRow(this.#sheet);
    const cells = this.#cellsInOrder ? this.#cells : this.#tidyCells(this.#cells);
    this.rows.push({ number: this.#rowNumber, hidden: this.#hidden, cells });
  }

  /** All rows in order, one for each number. Says in the remarks what had to be put right. */
  finish(): OpenRow[] {
    const rows = this.#rowsInOrder ? this.rows : this.#tidyRows();
    const { remarks } = this.#context;
    const sheet = `Sheet ${this.#sheet}`;
    if (this.#misplaced > 0) {
      const cells = plural(this.#misplaced, 'cell');
      remarks.push(
        `${sheet}: ${cells} named another row than the one they stand in; read where they stand.`,
      );
    }
    if (this.#repeated > 0) {
      remarks.push(
        `${sheet}: ${plural(this.#repeated, 'cell')} stood in the file twice; the later one was read.`,
      );
    }
    return rows;
  }

  #formulaText(formula: StoredFormula): string {
    if (formula.shared === undefined) return formula.text;
    const at = { row: this.#rowNumber, column: this.#column };
    const master = this.#masters.get(formula.shared);
    if (formula.text !== '') {
      if (!master) this.#masters.set(formula.shared, { text: formula.text, at });
      return formula.text;
    }
    return master ? moveFormula(master.text, master.at, at) : '';
  }

  #tidyCells(cells: readonly OpenCell[]): OpenCell[] {
    const byColumn = new Map<number, OpenCell>();
    for (const cell of cells) byColumn.set(cell.column, cell);
    this.#repeated += cells.length - byColumn.size;
    return [...byColumn.values()].sort((a, b) => a.column - b.column);
  }

  #tidyRows(): OpenRow[] {
    const byNumber = new Map<number, OpenRow>();
    for (const row of this.rows) {
      const known = byNumber.get(row.number);
      if (!known) byNumber.set(row.number, row);
      else for (const cell of row.cells) known.cells.push(cell);
    }
    if (byNumber.size < this.rows.length) {
      for (const row of byNumber.values()) row.cells = this.#tidyCells(row.cells);
    }
    return [...byNumber.values()].sort((a, b) => a.number - b.number);
  }

  #longFormula(column: number): never {
    refuse(
      'long-formula',
      `A formula has more than ${counted(READ_LIMITS.charactersOfCell)} characters, more than any sheet can hold.`,
      `${this.#context.parts.fileName}, cell ${cellName(this.#sheet, this.#rowNumber, column)}`,
      GET_A_FRESH_COPY,
    );
  }

  #badReference(reference: string): never {
    const [, letters, digits] = /^\$?([A-Za-z]+)\$?([0-9]+)$/.exec(reference.trim()) ?? [];
    if (letters === undefined || Number(digits) < 1) this.#noPlace(reference);
    if (columnOf(letters) === undefined) this.#outside('column', 'column XFD');
    this.#outside('row', `row ${counted(SHEET_LAST_ROW)}`);
  }

  #noPlace(reference: string | undefined): never {
    refuse(
      'cell-reference',
      `A row or cell is said to stand at "${(reference ?? '').slice(0, 40)}", which is no place in a sheet.`,
      `${this.#context.parts.fileName}, sheet ${this.#sheet}`,
      GET_A_FRESH_COPY,
    );
  }

  #outside(kind: 'row' | 'column', last: string): never {
    refuse(
      `${kind}-outside`,
      `The sheet has cells beyond ${last}, the last ${kind} a sheet can have.`,
      `${this.#context.parts.fileName}, sheet ${this.#sheet}`,
      GET_A_FRESH_COPY,
    );
  }
}
