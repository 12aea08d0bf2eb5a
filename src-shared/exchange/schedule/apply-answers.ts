/** What the engineer answered in the import report, put into the cells before they are read. */
import type { SourceCell, SourceSheet, SourceWorkbook } from '../../document/source-workbook.ts';
import { cellName, columnLetters } from '../../document/source-workbook.ts';
import type { ReadRefusal } from './read-refusal.ts';
import type { RawBefore } from './reading-log.ts';

export type Answered =
  | { readonly ok: true; readonly workbook: SourceWorkbook; readonly rawBefore: RawBefore }
  | { readonly ok: false; readonly refusal: ReadRefusal };

interface Place {
  readonly row: number;
  readonly column: number;
  readonly name: string;
  readonly text: string | null;
}

function columnOf(letters: string): number {
  let column = 0;
  for (const letter of letters) column = column * 26 + letter.charCodeAt(0) - 64;
  return column - 1;
}

function bad(name: string, what: string): Answered {
  const todo = 'Name a cell as the import report does, such as Schedule!K12.';
  return { ok: false, refusal: { code: 'bad-option', what, where: name, todo } };
}

function answeredCell(column: number, text: string | null): SourceCell {
  return { column, text: text ?? '', value: text, kind: 'text' };
}

function answerSheet(
  sheet: SourceSheet,
  byRow: ReadonlyMap<number, readonly Place[]>,
  rawBefore: Map<string, string>,
): SourceSheet {
  const rows = sheet.rows.map((row) => {
    const places = byRow.get(row.number);
    if (places === undefined) return row;
    const cells = new Map(row.cells.map((cell) => [cell.column, cell]));
    for (const { column, name, text } of places) {
      rawBefore.set(name, cells.get(column)?.text ?? '');
      cells.set(column, answeredCell(column, text));
    }
    return { ...row, cells: [...cells.values()].sort((a, b) => a.column - b.column) };
  });
  return { ...sheet, rows };
}

/**
 * The workbook with answered cells replaced by text (`null`: left blank). A name that is no cell of
 * a row with something in it is refused as a bad option.
 */
export function applyAnswers(
  workbook: SourceWorkbook,
  answers: ReadonlyMap<string, string | null>,
): Answered {
  const rawBefore = new Map<string, string>();
  if (answers.size === 0) return { ok: true, workbook, rawBefore };
  const left = new Map(answers);
  const sheets = workbook.sheets.map((sheet) => {
    const prefix = cellName(sheet.name, 1, 0).slice(0, -2);
    const numbers = new Set(sheet.rows.map((row) => row.number));
    const byRow = new Map<number, Place[]>();
    for (const [name, text] of left) {
      if (!name.startsWith(prefix)) continue;
      const found = /^([A-Z]{1,3})([1-9]\d{0,6})$/.exec(name.slice(prefix.length));
      if (found?.[1] === undefined || !numbers.has(Number(found[2]))) continue;
      const place = { row: Number(found[2]), column: columnOf(found[1]), name, text };
      if (columnLetters(place.column) !== found[1]) continue;
      left.delete(name);
      const list = byRow.get(place.row);
      if (list === undefined) byRow.set(place.row, [place]);
      else list.push(place);
    }
    return byRow.size === 0 ? sheet : answerSheet(sheet, byRow, rawBefore);
  });
  const [unknown] = left.keys();
  if (unknown !== undefined) {
    return bad(unknown, 'An answer names a cell that is not in a filled row of the file.');
  }
  return { ok: true, workbook: { ...workbook, sheets }, rawBefore };
}
