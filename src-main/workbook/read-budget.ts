import { cellName } from '../../src-shared/document/source-workbook.ts';
import { counted, READ_LIMITS } from './read-limits.ts';
import { MAKE_IT_SMALLER, refuse } from './refusal.ts';

const LARGE_PART_BYTES = 20_000_000;

/** Counts what has been read of a whole file against the limits. Throws `RefusalError` beyond one. */
export class ReadBudget {
  #rows = 0;
  #cells = 0;
  #characters = 0;
  #merges = 0;
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
    this.#characters += text.length;
    if (this.#characters > READ_LIMITS.cellCharacters) {
      this.#over('cell-characters', READ_LIMITS.cellCharacters, 'characters of text', sheet);
    }
  }

  /**
   * Ends early on a large part with far too many values: counting end tags is quicker than parsing.
   * What it misses (an unusual way of writing) the count per cell finds.
   */
  guardLargePart(bytes: Uint8Array, sheet: string): void {
    if (bytes.length < LARGE_PART_BYTES) return;
    const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    let values = this.#cells;
    for (let at = buffer.indexOf('</v>'); at >= 0; at = buffer.indexOf('</v>', at + 4)) values++;
    if (values > READ_LIMITS.cells) this.#over('cells', READ_LIMITS.cells, 'filled cells', sheet);
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

  #over(code: string, limit: number, things: string, sheet: string): never {
    refuse(
      code,
      `The file has more than ${counted(limit)} ${things}.`,
      `${this.#fileName}, sheet ${sheet}`,
      MAKE_IT_SMALLER,
    );
  }
}
