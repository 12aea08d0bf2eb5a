/** What the engineer does about readings: each act one step of undo. */
import { columns } from '../../src-shared/columns/column-table.ts';
import type { CellAnswer, ImportQuestion, Reading } from '../../src-shared/document/project.ts';
import { project } from './document-store.ts';
import {
  type SheetKey,
  withAccepted,
  withCells,
  withColumn,
  withHeaderRow,
  withoutAccepted,
  withoutCells,
  withQuestion,
  withSheets,
} from './import-answer-edits.ts';
import { books } from './import-books.ts';
import { cellAt } from './import-cell-place.ts';
import { findCell, previews } from './import-preview.ts';
import {
  currentAnswers,
  noteAnswers,
  readAgain,
  readOtherwise,
  takeReading,
} from './import-state.ts';
import { say } from './notice.ts';
import type { Conflict, Side } from './reading-conflicts.ts';

/** What the files have in a cell; `''` where it is empty or the files are not at hand. */
export function textInFile(cell: string): string {
  const place = findCell(cell);
  const workbooks = (books.value ?? []).map(({ workbook }) => workbook);
  return place === null ? '' : (cellAt(workbooks, place)?.text ?? '');
}

function shortText(text: string): string {
  return text.length > 24 ? `${text.slice(0, 23)}…` : text;
}

/** Reads a cell as another text; null: leaves it blank. The file's own text takes the answer back. */
export async function readCellAs(cell: string, text: string | null): Promise<boolean> {
  const raw = textInFile(cell);
  const now = currentAnswers();
  const answered = now.cells.some((answer) => answer.cell === cell);
  if (text === raw || (text === null && raw === '')) {
    return answered ? readAsInFile(cell) : false;
  }
  const answer: CellAnswer = { cell, raw, text };
  const how = text === null ? 'left blank' : `read as ${shortText(text)}`;
  return readAgain(withCells(now, [answer]), `${cell} ${how}`);
}

/** Takes the answer for a cell back. */
export async function readAsInFile(cell: string): Promise<boolean> {
  const now = currentAnswers();
  if (!now.cells.some((answer) => answer.cell === cell)) return false;
  return readAgain(withoutCells(now, new Set([cell])), `${cell} as in the file`);
}

/** Reads a cell as what the report offers for it. */
export function takeOffer({ cell, offer }: Reading): Promise<boolean> {
  return offer === undefined ? Promise.resolve(false) : readCellAs(cell, offer);
}

function named(readings: readonly Reading[]): string {
  const [first] = readings;
  return readings.length === 1 ? (first?.cell ?? '') : `${readings.length} readings`;
}

/** Takes readings as they are. */
export function acceptReadings(readings: readonly Reading[]): boolean {
  if (readings.length === 0) return false;
  const label = `Accept ${named(readings)}`;
  const done = noteAnswers(withAccepted(currentAnswers(), readings), label);
  if (done) say('status', `${named(readings)} accepted.`);
  return done;
}

/** Opens accepted readings again. */
export function reopenReadings(readings: readonly Reading[]): boolean {
  if (readings.length === 0) return false;
  const done = noteAnswers(
    withoutAccepted(currentAnswers(), readings),
    `Open ${named(readings)} again`,
  );
  if (done) say('status', `${named(readings)} open again.`);
  return done;
}

/** Of two files that contradict each other one side holds: the other's cell is left blank. */
export async function takeSide({ sides }: Conflict, taken: Side): Promise<boolean> {
  const left = sides.filter(({ cell }) => cell !== taken.cell);
  const blanks = left.map(({ cell }): CellAnswer => ({ cell, raw: textInFile(cell), text: null }));
  return readAgain(
    withCells(currentAnswers(), blanks),
    `${taken.cell} taken: ${shortText(taken.raw)}`,
  );
}

/** Reads a source column as another; null: carried along unread. */
export function readColumnAs(header: string, columnId: string | null): Promise<boolean> {
  const all = project.value?.source?.columns ?? [];
  const isTag = all.some((column) => column.header === header && column.columnId === 'tag');
  if (isTag && columnId !== 'tag' && all.filter((c) => c.columnId === 'tag').length === 1) {
    say(
      'alert',
      `${header} names the fixtures: choose the column that holds their tags first. Everything stays read as it was.`,
    );
    return Promise.resolve(false);
  }
  const title = columns.find(({ id }) => id === columnId)?.title;
  const how = title === undefined ? 'carried along' : `read as ${title}`;
  return readAgain(withColumn(currentAnswers(), header, columnId), `${header} ${how}`);
}

const isSheet = (key: SheetKey) => (other: SheetKey) =>
  other.file === key.file && other.sheet === key.sheet;

/** Takes another row of a sheet as the one right above the data. */
export async function readHeaderIn(key: SheetKey, row: number): Promise<boolean> {
  const before = project.value?.source?.sheets.find(isSheet(key))?.headerRow;
  const change = await readOtherwise(withHeaderRow(currentAnswers(), key, row));
  if (change === null) return false;
  const after = change.read.source?.sheets.find(isSheet(key))?.headerRow;
  if (after === before || after === undefined) {
    const stays = before === undefined ? '' : `; it stays in row ${before}`;
    say('alert', `Row ${row} of ${key.sheet} is no header that names a column of tags${stays}.`);
    return false;
  }
  return takeReading(change, `Header of ${key.sheet} in row ${row}`);
}

/** Reads a sheet as part of the schedule, or no longer. */
export async function readSheet(key: SheetKey, read: boolean): Promise<boolean> {
  const same = isSheet(key);
  const now = project.value?.source?.sheets ?? [];
  // In the order of the files, whatever the order of ticking.
  const next = (previews.value ?? now)
    .map(({ file, sheet }) => ({ file, sheet }))
    .filter((one) => (same(one) ? read : now.some(isSheet(one))));
  if (next.length === 0) {
    say('alert', 'At least one sheet must be the schedule. Choose another one first.');
    return false;
  }
  const change = await readOtherwise(withSheets(currentAnswers(), next));
  if (change === null) return false;
  if (change.read.source?.sheets.some(same) !== read) {
    say(
      'alert',
      read
        ? `${key.sheet} has no header row that names a column of tags, so it cannot be part of the schedule.`
        : `${key.sheet} is the only schedule of its file and stays.`,
    );
    return false;
  }
  return takeReading(change, `Sheet ${key.sheet} ${read ? 'read' : 'not read'}`);
}

/** Answers a question of the file; null: it is open again. */
export function answerQuestion(question: ImportQuestion, value: string | null): Promise<boolean> {
  const title = question.choices.find((choice) => choice.value === value)?.title;
  const label = title === undefined ? 'Question open again' : `Answered: ${title}`;
  return readAgain(withQuestion(currentAnswers(), question, value), label);
}
