import { CsvError, parse } from 'csv-parse/sync';
import {
  cellName,
  type SourceCell,
  type SourceRow,
  type SourceWorkbook,
} from '../../src-shared/document/source-workbook.ts';
import { isBlank } from '../../src-shared/exchange/schedule/cell-text.ts';
import { decodeCsv } from './csv-encoding.ts';
import { unguardCsvText } from './csv-guard.ts';
import { guardCsvBytes, guardFieldCount } from './csv-guard-size.ts';
import { tellSeparator } from './csv-separator.ts';
import { looksSwallowed } from './csv-swallowed.ts';
import { ReadBudget } from './read-budget.ts';
import { GET_A_FRESH_COPY, RefusalError, refuse } from './refusal.ts';

/** Bytes the separator is told by. */
const SAMPLE_BYTES = 262_144;

/** Name of the one sheet of a csv file: the file's name without its extension. */
export function csvSheetName(fileName: string): string {
  const name = fileName.replace(/\.[^.]*$/, '');
  return name === '' ? fileName : name;
}

/** Hands each record on as it is parsed: all of them together would take the memory twice. */
function parseRecords(
  bytes: Uint8Array,
  separator: string,
  fileName: string,
  take: (record: readonly string[]) => void,
): void {
  let taken = 0;
  try {
    parse(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength), {
      delimiter: separator,
      record_delimiter: ['\r\n', '\n', '\r'],
      relax_column_count: true,
      relax_quotes: true,
      on_record: (record: string[]) => {
        taken++;
        take(record);
        return null;
      },
    });
  } catch (error) {
    if (error instanceof RefusalError) throw error;
    if (error instanceof CsvError && error.code === 'CSV_QUOTE_NOT_CLOSED') {
      refuse(
        'csv-quote',
        'A quotation mark that opens a cell is never closed, so the rest of the file cannot be told apart.',
        `${fileName}, row ${taken + 1}`,
        'Close the quotation mark in that row, or export the file again.',
      );
    }
    refuse(
      'csv',
      'The file cannot be taken apart into rows and cells.',
      fileName,
      GET_A_FRESH_COPY,
    );
  }
}

/** Builds the rows of the sheet from records in order. */
class CsvRows {
  readonly rows: SourceRow[] = [];
  readonly remarks: string[] = [];
  readonly #sheet: string;
  readonly #separator: string;
  readonly #budget: ReadBudget;
  #number = 0;
  #width = 0;
  #lastWidths: readonly [before: number, last: number] = [0, 0];
  #swallowed = 0;

  constructor(fileName: string, separator: string) {
    this.#sheet = csvSheetName(fileName);
    this.#separator = separator;
    this.#budget = new ReadBudget(fileName);
  }

  take(record: readonly string[]): void {
    const number = ++this.#number;
    const cells: SourceCell[] = [];
    this.#width = Math.max(this.#width, record.length);
    this.#lastWidths = [this.#lastWidths[1], record.length];
    for (const [column, written] of record.entries()) {
      if (written === '') continue;
      const value = unguardCsvText(written);
      this.#budget.addCell(column, number, value, this.#sheet);
      if (looksSwallowed(value, this.#separator, this.#width)) this.#tellSwallowed(column, value);
      cells.push({ column, text: value, value, kind: 'text' });
    }
    // A row of nothing but separators and blanks is no row of the table.
    if (cells.every(isBlank)) return;
    this.#budget.addRow(this.#sheet);
    this.rows.push({ number, hidden: false, cells });
  }

  /** Call when all are taken. @param isEnded the text has a line end at its end */
  finish(isEnded: boolean): void {
    const [before, last] = this.#lastWidths;
    if (isEnded || last >= before) return;
    this.remarks.push(
      `Row ${this.#number}, the last, is shorter than the one before and does not end: the file may be cut off.`,
    );
  }

  #tellSwallowed(column: number, text: string): void {
    if (++this.#swallowed > 10) return;
    const lines = text.split(/\r\n|\n|\r/).length;
    this.remarks.push(
      `Cell ${cellName(this.#sheet, this.#number, column)} runs over ${lines} lines that look like rows of the table: look for a quotation mark too many or too few.`,
    );
  }
}

/**
 * Reads csv text of any usual kind: UTF-8, UTF-16 or windows-1252; comma, semicolon or tab; quotes
 * as in RFC 4180, line ends of every kind. All values stay text.
 * @throws RefusalError `csv-…`, `rows`, `columns`, `cells`, `long-cell`, `cell-characters`
 */
export function readCsv(given: Uint8Array, fileName: string): SourceWorkbook {
  guardCsvBytes(given, fileName);
  const decoded = decodeCsv(given);
  const decodedSample = new TextDecoder().decode(decoded.bytes.subarray(0, SAMPLE_BYTES), {
    stream: true,
  });
  const named = /^sep=([,;\t])(\r\n|\n|\r)/i.exec(decodedSample);
  const bytes = decoded.bytes.subarray(named ? Buffer.byteLength(named[0]) : 0);
  const separator = named?.[1] ?? tellSeparator(decodedSample);
  guardFieldCount(bytes, separator, fileName);
  const table = new CsvRows(fileName, separator);
  parseRecords(bytes, separator, fileName, (record) => table.take(record));
  table.finish(/[\r\n]/.test(String.fromCharCode(bytes.at(-1) ?? 10)));
  if (table.rows.length === 0) {
    const what = 'The file has rows, but no filled cell in them.';
    refuse('no-cells', what, fileName, 'Choose another file, or export the schedule again.');
  }
  const remarks = decoded.remark === undefined ? [] : [decoded.remark];
  return {
    kind: 'csv',
    fileName,
    sheets: [{ name: csvSheetName(fileName), hidden: false, rows: table.rows, merges: [] }],
    remarks: [...remarks, ...table.remarks],
  };
}
