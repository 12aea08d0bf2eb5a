/** What the engineer answered for cells in the import report, put into them before they are read. */
import type { CellAnswer } from '../../document/project.ts';
import type { SourceCell, SourceSheet, SourceWorkbook } from '../../document/source-workbook.ts';
import { CellFinder, type CellPlace } from './cell-place.ts';
import type { AnsweredText } from './reading-log.ts';

/** A cell whose text is the engineer's answer. */
interface AnsweredCell extends SourceCell {
  readonly answered: true;
}

/** The engineer has said that nothing is to be read here. */
export function isLeftBlank(cell: SourceCell | undefined): boolean {
  return cell !== undefined && 'answered' in cell && cell.value === null;
}

/** An answer that was not used: the file says something else there than when it was given. */
export interface StaleAnswer {
  readonly answer: CellAnswer;
  /** Null: the files have no such row. */
  readonly place: CellPlace | null;
  /** What the cell says now. */
  readonly raw: string;
}

export interface Answered {
  readonly workbooks: readonly SourceWorkbook[];
  /** By cell name. */
  readonly answered: ReadonlyMap<string, AnsweredText>;
  readonly stale: readonly StaleAnswer[];
}

interface Placed {
  readonly place: CellPlace;
  readonly text: string | null;
}

function answerSheet(
  sheet: SourceSheet,
  byRow: ReadonlyMap<number, readonly Placed[]>,
): SourceSheet {
  const rows = sheet.rows.map((row) => {
    const placed = byRow.get(row.number);
    if (placed === undefined) return row;
    const cells = new Map(row.cells.map((cell) => [cell.column, cell]));
    for (const { place, text } of placed) {
      const cell: AnsweredCell = {
        column: place.column,
        text: text ?? '',
        value: text,
        kind: 'text',
        answered: true,
      };
      cells.set(place.column, cell);
    }
    return { ...row, cells: [...cells.values()].sort((a, b) => a.column - b.column) };
  });
  return { ...sheet, rows };
}

/** Text of a cell; null where the sheet has no such filled row. */
function textAt(workbooks: readonly SourceWorkbook[], place: CellPlace): string | null {
  const sheet = workbooks[place.file]?.sheets.find((s) => s.name === place.sheet);
  const row = sheet?.rows.find((r) => r.number === place.row);
  if (row === undefined) return null;
  return row.cells.find((cell) => cell.column === place.column)?.text ?? '';
}

/**
 * The workbooks with answered cells replaced by text (`null`: left blank). An answer whose cell says
 * another text now is not used and listed as stale. Of two answers for one cell the last holds.
 */
export function answerCells(
  workbooks: readonly SourceWorkbook[],
  answers: readonly CellAnswer[],
): Answered {
  const answered = new Map<string, AnsweredText>();
  const stale: StaleAnswer[] = [];
  if (answers.length === 0) return { workbooks, answered, stale };
  const finder = new CellFinder(workbooks);
  const placed = new Map<string, Placed>();
  for (const answer of answers) {
    const place = finder.find(answer.cell);
    const raw = place === null ? null : textAt(workbooks, place);
    if (place === null || raw === null || raw !== answer.raw) {
      stale.push({ answer, place: raw === null ? null : place, raw: raw ?? '' });
      continue;
    }
    answered.set(answer.cell, { raw, text: answer.text });
    placed.set(answer.cell, { place, text: answer.text });
  }
  const bySheet = new Map<string, Map<number, Placed[]>>();
  for (const one of placed.values()) {
    const key = JSON.stringify([one.place.file, one.place.sheet]);
    const rows = bySheet.get(key) ?? new Map<number, Placed[]>();
    bySheet.set(key, rows);
    rows.set(one.place.row, [...(rows.get(one.place.row) ?? []), one]);
  }
  const next = workbooks.map((workbook, file) => ({
    ...workbook,
    sheets: workbook.sheets.map((sheet) => {
      const rows = bySheet.get(JSON.stringify([file, sheet.name]));
      return rows === undefined ? sheet : answerSheet(sheet, rows);
    }),
  }));
  return { workbooks: next, answered, stale };
}
