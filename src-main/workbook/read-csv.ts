import { CsvError, parse } from 'csv-parse/sync';
import type {
  SourceCell,
  SourceRow,
  SourceWorkbook,
} from '../../src-shared/document/source-workbook.ts';
import { isBlank } from '../../src-shared/exchange/schedule/cell-text.ts';
import { decodeCsv } from './csv-encoding.ts';
import { unguardCsvText } from './csv-guard.ts';
import { tellSeparator } from './csv-separator.ts';
import { ReadBudget } from './read-budget.ts';
import { counted, READ_LIMITS } from './read-limits.ts';
import { GET_A_FRESH_COPY, MAKE_IT_SMALLER, refuse } from './refusal.ts';

/** Name of the one sheet of a csv file: the file's name without its extension. */
export function csvSheetName(fileName: string): string {
  const name = fileName.replace(/\.[^.]*$/, '');
  return name === '' ? fileName : name;
}

/** Cheap count before parsing, so that a file of nothing but separators takes no memory. */
function guardFieldCount(text: string, separator: string, fileName: string): void {
  let fields = 0;
  for (const sign of [separator, '\n', '\r']) {
    for (let at = text.indexOf(sign); at >= 0; at = text.indexOf(sign, at + 1)) fields++;
    if (fields > 3 * READ_LIMITS.cells) {
      const limit = counted(READ_LIMITS.cells);
      refuse('cells', `The file has far more than ${limit} cells.`, fileName, MAKE_IT_SMALLER);
    }
  }
}

function parseRecords(text: string, separator: string, fileName: string): string[][] {
  try {
    return parse(text, {
      delimiter: separator,
      record_delimiter: ['\r\n', '\n', '\r'],
      relax_column_count: true,
      relax_quotes: true,
    });
  } catch (error) {
    if (error instanceof CsvError && error.code === 'CSV_QUOTE_NOT_CLOSED') {
      const row = Number(error.records ?? 0) + 1;
      refuse(
        'csv-quote',
        'A quotation mark that opens a cell is never closed, so the rest of the file cannot be told apart.',
        `${fileName}, row ${row}`,
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

/**
 * Reads csv text of any usual kind: UTF-8, UTF-16 with a mark or windows-1252; comma, semicolon or
 * tab; quotes as in RFC 4180, line ends of every kind. All values stay text.
 * @throws RefusalError `csv-quote`, `inflated-bytes`, `rows`, `columns`, `cells`, `long-cell`, `cell-characters`
 */
export function readCsv(bytes: Uint8Array, fileName: string): SourceWorkbook {
  if (bytes.length > READ_LIMITS.inflatedBytes) {
    const limit = counted(READ_LIMITS.inflatedBytes / 1e6);
    refuse('inflated-bytes', `The file is larger than ${limit} MB.`, fileName, MAKE_IT_SMALLER);
  }
  const decoded = decodeCsv(bytes);
  const named = /^sep=([,;\t])(\r\n|\n|\r)/i.exec(decoded.text);
  const text = named ? decoded.text.slice(named[0].length) : decoded.text;
  const separator = named?.[1] ?? tellSeparator(text);
  guardFieldCount(text, separator, fileName);
  const sheet = csvSheetName(fileName);
  const budget = new ReadBudget(fileName);
  const rows: SourceRow[] = [];
  for (const [at, record] of parseRecords(text, separator, fileName).entries()) {
    const cells: SourceCell[] = [];
    for (const [column, written] of record.entries()) {
      if (written === '') continue;
      const value = unguardCsvText(written);
      budget.addCell(column, at + 1, value, sheet);
      cells.push({ column, text: value, value, kind: 'text' });
    }
    // A row of nothing but separators and blanks is no row of the table.
    if (cells.every(isBlank)) continue;
    budget.addRow(sheet);
    rows.push({ number: at + 1, hidden: false, cells });
  }
  const remarks = decoded.remark === undefined ? [] : [decoded.remark];
  return {
    kind: 'csv',
    fileName,
    sheets: [{ name: sheet, hidden: false, rows, merges: [] }],
    remarks,
  };
}
