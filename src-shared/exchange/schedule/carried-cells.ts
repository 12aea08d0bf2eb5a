/** Cells that no column of a schedule is read from: carried ones, and our own locks. */
import { isSourceColumnId } from '../../columns/column-table.ts';
import type { SourceCell, SourceRow } from '../../document/source-workbook.ts';
import { type LocksOfRow, locksFromText } from '../export/own-columns.ts';
import { isBlank, textOf } from './cell-text.ts';
import { foreignNote } from './own-notes.ts';
import type { SheetPart } from './sheet-part.ts';

export const noLocks: LocksOfRow = { fixture: [], run: [] };

/** How a comment is told. */
export function commentNote(comment: string): string {
  return `the cell has a comment, not read as a value: "${comment.slice(0, 300)}"`;
}

/** What is struck through or commented in a cell that is carried along; null: nothing. */
function carriedNote(cell: SourceCell, ownExport: boolean): string | null {
  const notes: string[] = [];
  if (cell.struck === true && !isBlank(cell)) notes.push('struck through in the file');
  if (cell.struckText !== undefined) notes.push(`"${cell.struckText.trim()}" is struck through`);
  const comment = cell.note === undefined ? '' : foreignNote(cell.note, ownExport);
  if (comment !== '') notes.push(commentNote(comment));
  return notes.length === 0 ? null : `${notes.join('; ')}; the column is carried along unread`;
}

/** Tells of columns that are carried along what is struck through or commented there. */
export function tellCarried({ plan, log, sheet }: SheetPart, row: SourceRow): void {
  for (const cell of row.cells) {
    if (cell.struck === undefined && cell.struckText === undefined && cell.note === undefined)
      continue;
    const planned = plan.columns.find(({ column }) => column === cell.column);
    if (planned === undefined || planned.columnId !== null) continue;
    const note = carriedNote(cell, plan.rowIdColumn !== null);
    if (note === null) continue;
    const place = { sheet: sheet.name, row: row.number, column: cell.column };
    log.add(place, cell.text, null, null, 'likely', note);
  }
}

/** The locks of a row as our export wrote them; a word that is no column is told. */
export function readLocks(
  { log, sheet }: SheetPart,
  row: SourceRow,
  cell: SourceCell | undefined,
): LocksOfRow {
  if (cell === undefined) return noLocks;
  const locks = locksFromText(textOf(cell));
  const unknown = [...locks.fixture, ...locks.run].filter((word) => !isSourceColumnId(word));
  if (unknown.length > 0) {
    const note = `no column ${unknown.map((word) => `"${word}"`).join(', ')} to lock`;
    const place = { sheet: sheet.name, row: row.number, column: cell.column };
    log.add(place, cell.text, 'locks', null, 'refused', note);
  }
  const known = (list: readonly string[]) => [...new Set(list)].filter(isSourceColumnId);
  return { fixture: known(locks.fixture), run: known(locks.run) };
}
