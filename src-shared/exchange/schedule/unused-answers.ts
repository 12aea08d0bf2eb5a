/** Answers the files no longer fit: told, so that nobody takes them for used. */

import { isSourceColumnId } from '../../columns/column-table.ts';
import type { ImportAnswers } from '../../document/project.ts';
import type { StaleAnswer } from './answered-cells.ts';
import type { PlannedFile } from './planned-file.ts';
import type { ReadingBook } from './reading-log.ts';

function said(text: string | null): string {
  return text === null ? 'left blank' : `"${text}"`;
}

function tellStale(
  { answer, place, raw }: StaleAnswer,
  files: readonly PlannedFile[],
  book: ReadingBook,
): void {
  const file = place === null ? undefined : files[place.file];
  const was = answer.raw === '' ? 'was blank' : `said "${answer.raw}"`;
  const note = `was answered (${said(answer.text)}) when it ${was}; the answer was not used`;
  if (place === null || file === undefined) {
    const [first] = files;
    book.addRemark(
      first?.workbook.fileName ?? '',
      `${answer.cell} ${note}: there is no such row now`,
      'guess',
    );
  } else file.log.add(place, raw, null, null, 'guess', note);
}

/** Tells of answers for cells that say something else now, and for headers no sheet has. */
export function tellUnusedAnswers(
  files: readonly PlannedFile[],
  answers: ImportAnswers,
  stale: readonly StaleAnswer[],
  book: ReadingBook,
): void {
  for (const one of stale) tellStale(one, files, book);
  const plans = files.flatMap(({ parts }) => parts.map(({ plan }) => plan));
  const fileName = files[0]?.workbook.fileName ?? '';
  for (const { header, columnId } of answers.columns) {
    const known = columnId === null || isSourceColumnId(columnId);
    if (known && plans.some((plan) => plan.givenUsed.has(header))) continue;
    const why = known ? `there is no header "${header}" now` : `"${columnId}" is no column`;
    book.addRemark(fileName, `the answer for the column "${header}" was not used: ${why}`, 'guess');
  }
}
