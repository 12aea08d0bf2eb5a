/** What opens a schedule: reads the workbook the host gave out and makes it the open job. */
import type { OpenedFile } from '../../src-shared/contract/requests.ts';
import { noAnswers } from '../../src-shared/document/import-answers.ts';
import { openJob } from './document-store.ts';
import { answersFor, noteGiven } from './import-memory.ts';
import { keepRead, readBooks } from './import-state.ts';
import { say } from './notice.ts';
import { resetView } from './reset-view.ts';
import { view } from './view-state.ts';

/** Opens a schedule as a new job. False: it could not be read, and why is said. */
export async function openSchedule(
  opened: Extract<OpenedFile, { kind: 'schedule' }>,
): Promise<boolean> {
  const { file, workbook } = opened;
  const kept = answersFor(workbook);
  let read = readBooks([workbook], kept ?? noAnswers);
  let used = kept;
  if (!read.ok && kept !== null) {
    // What was remembered does not fit after all: the file is read as found.
    used = null;
    read = readBooks([workbook], noAnswers);
  }
  if (!read.ok) {
    const { where, what, todo } = read.refusal;
    say('alert', `${where}: ${what} ${todo}`);
    return false;
  }
  keepRead(read.project, [{ held: file, workbook }]);
  openJob(read.project, { sources: [file], target: null, writable: false }, false);
  noteGiven(workbook, used);
  resetView();
  view.value = 'import';
  say('status', `${file.name} was read; nothing is saved as a project so far.`);
  return true;
}
