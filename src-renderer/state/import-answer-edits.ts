/** One answer more or less: pure steps over what the engineer has said about the source. */
import type {
  AcceptedReading,
  CellAnswer,
  ImportAnswers,
  ImportQuestion,
  Reading,
} from '../../src-shared/document/project.ts';

export type QuestionKey = Pick<ImportQuestion, 'id' | 'file'>;
export type SheetKey = NonNullable<ImportAnswers['sheets']>[number];

/** The answer given for a cell; null: none, it is read as the file has it. */
export function answerAt(answers: ImportAnswers, cell: string): CellAnswer | null {
  return answers.cells.find((answer) => answer.cell === cell) ?? null;
}

/** What was accepted of a cell that is now read otherwise was another reading. */
function lookedAtAgain(answers: ImportAnswers, cells: ReadonlySet<string>): ImportAnswers {
  return { ...answers, accepted: answers.accepted.filter(({ cell }) => !cells.has(cell)) };
}

/** Cells to be read as other texts; an earlier answer for the same cell goes. */
export function withCells(answers: ImportAnswers, given: readonly CellAnswer[]): ImportAnswers {
  const cells = new Map(answers.cells.map((answer) => [answer.cell, answer]));
  for (const answer of given) cells.set(answer.cell, answer);
  const open = lookedAtAgain(answers, new Set(given.map(({ cell }) => cell)));
  return { ...open, cells: [...cells.values()] };
}

/** The cells are read as the file has them. */
export function withoutCells(answers: ImportAnswers, cells: ReadonlySet<string>): ImportAnswers {
  const open = lookedAtAgain(answers, cells);
  return { ...open, cells: answers.cells.filter(({ cell }) => !cells.has(cell)) };
}

/** A source column read as another; null: carried along unread. */
export function withColumn(
  answers: ImportAnswers,
  header: string,
  columnId: string | null,
): ImportAnswers {
  const others = answers.columns.filter((answer) => answer.header !== header);
  return { ...answers, columns: [...others, { header, columnId }] };
}

/** The header of a sheet in another row. */
export function withHeaderRow(answers: ImportAnswers, key: SheetKey, row: number): ImportAnswers {
  const others = answers.headerRows.filter(
    ({ file, sheet }) => file !== key.file || sheet !== key.sheet,
  );
  return { ...answers, headerRows: [...others, { ...key, row }] };
}

/** The sheets that make up the schedule. */
export function withSheets(answers: ImportAnswers, sheets: readonly SheetKey[]): ImportAnswers {
  return { ...answers, sheets };
}

/** A question of the file answered; null: asked again. */
export function withQuestion(
  answers: ImportAnswers,
  { id, file }: QuestionKey,
  value: string | null,
): ImportAnswers {
  const others = answers.questions.filter((q) => q.id !== id || q.file !== file);
  return { ...answers, questions: value === null ? others : [...others, { id, file, value }] };
}

/** What of a reading is accepted: its text, or the words of a remark on a file as a whole. */
type Acceptable = Pick<Reading, 'cell' | 'column' | 'raw' | 'note'>;

function acceptedAs({ cell, column, raw, note }: Acceptable): AcceptedReading {
  return { cell, column, raw: cell.includes('!') ? raw : note };
}

const keyOf = ({ cell, column, raw }: AcceptedReading): string =>
  JSON.stringify([cell, column, raw]);

/** Which readings are accepted, asked often: one set for many questions. */
export function acceptedIn(answers: ImportAnswers): (reading: Acceptable) => boolean {
  const known = new Set(answers.accepted.map(keyOf));
  return (reading) => known.has(keyOf(acceptedAs(reading)));
}

/** The readings are taken as they are, each once. */
export function withAccepted(
  answers: ImportAnswers,
  readings: readonly Acceptable[],
): ImportAnswers {
  const isAccepted = acceptedIn(answers);
  const fresh = readings.filter((reading) => !isAccepted(reading)).map(acceptedAs);
  const once = new Map(fresh.map((accepted) => [keyOf(accepted), accepted]));
  return { ...answers, accepted: [...answers.accepted, ...once.values()] };
}

/** The readings are open again. */
export function withoutAccepted(
  answers: ImportAnswers,
  readings: readonly Acceptable[],
): ImportAnswers {
  const gone = new Set(readings.map((reading) => keyOf(acceptedAs(reading))));
  return { ...answers, accepted: answers.accepted.filter((one) => !gone.has(keyOf(one))) };
}
