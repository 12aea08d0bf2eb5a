import { cellName } from '../../src-shared/document/source-workbook.ts';
import { counted, READ_LIMITS } from './read-limits.ts';
import { MAKE_IT_SMALLER, RefusalError, refuse } from './refusal.ts';

/** Beyond a limit that is counted cell by cell: the sheet at hand may be left out instead. */
export class OverLimitError extends RefusalError {}

/** Counts what has been read of a whole file against the limits. Throws `RefusalError` beyond one. */
export class ReadBudget {
  #rows = 0;
  #cells = 0;
  #characters = 0;
  #merges = 0;
  #notes = 0;
  readonly #fileName: string;

  constructor(fileName: string) {
    this.#fileName = fileName;
  }

  addRow(sheet: string): void {
    if (++this.#rows > READ_LIMITS.rows) this.#over('rows', READ_LIMITS.rows, 'rows', sheet);
  }

  addCell(column: number, row: number, text: string, sheet: string): void {
    if (text.length > READ_LIMITS.charactersOfCell) this.#longCell(column, row, sheet);
    if (column >= READ_LIMITS.columns) {
      this.#over('columns', READ_LIMITS.columns, 'columns in use', sheet);
    }
    if (++this.#cells > READ_LIMITS.cells) {
      this.#over('cells', READ_LIMITS.cells, 'filled cells', sheet);
    }
    this.addText(text, sheet);
  }

  /** Counts text kept beside the cells: formulas, notes, what is struck. */
  addText(text: string, sheet: string): void {
    this.#characters += text.length;
    if (this.#characters > READ_LIMITS.cellCharacters) {
      this.#over('cell-characters', READ_LIMITS.cellCharacters, 'characters of text', sheet);
    }
  }

  addNote(sheet: string): void {
    if (++this.#notes > READ_LIMITS.notes) {
      this.#over('notes', READ_LIMITS.notes, 'notes', sheet);
    }
  }

  addMerge(sheet: string): void {
    if (++this.#merges > READ_LIMITS.merges) {
      this.#over('merges', READ_LIMITS.merges, 'merged areas', sheet);
    }
  }

  #longCell(column: number, row: number, sheet: string): never {
    refuse(
      'long-cell',
      `A cell holds more than ${counted(READ_LIMITS.charactersOfCell)} characters, the most a cell of a sheet can hold.`,
      `${this.#fileName}, cell ${cellName(sheet, row, column)}`,
      'Shorten the text of that cell; in a csv file, look for a quotation mark that is not closed.',
    );
  }

  /** Gives back what will have been counted since, when a sheet is left out after all. */
  mark(): () => void {
    const [rows, cells, characters] = [this.#rows, this.#cells, this.#characters];
    const [merges, notes] = [this.#merges, this.#notes];
    return () => {
      this.#rows = rows;
      this.#cells = cells;
      this.#characters = characters;
      this.#merges = merges;
      this.#notes = notes;
    };
  }

  #over(code: string, limit: number, things: string, sheet: string): never {
    throw new OverLimitError({
      code,
      what: `The file has more than ${counted(limit)} ${things}.`,
      where: `${this.#fileName}, sheet ${sheet}`,
      todo: MAKE_IT_SMALLER,
    });
  }
}
