/** Reads the source again as the engineer answers: each answer is one step of undo. */
import { noAnswers } from '../../src-shared/document/import-answers.ts';
import type {
  ImportAnswers,
  Project,
  Reading,
  ScheduleSource,
} from '../../src-shared/document/project.ts';
import type { SourceWorkbook } from '../../src-shared/document/source-workbook.ts';
import { readSchedule } from '../../src-shared/exchange/read-schedule.ts';
import { reviseProject } from '../../src-shared/exchange/revise/revise-project.ts';
import { counts, project, run } from './document-store.ts';
import { keepBooks, loadBooks, type SourceBook } from './import-books.ts';
import { effectWords, readEffect } from './import-effect.ts';
import { say } from './notice.ts';

/** The project as it was read, by its report; accepting a reading leaves the report as it is. */
const readBy = new WeakMap<readonly Reading[], Project>();

/** Reads workbooks as the engineer has answered. */
export function readBooks(workbooks: readonly SourceWorkbook[], answers: ImportAnswers) {
  return readSchedule(workbooks, { answers });
}

/** Keeps what a reading gave, so that the next answer has something to be compared with. */
export function keepRead(read: Project, from: readonly SourceBook[]): void {
  if (read.source === null) return;
  readBy.set(read.source.readings, read);
  keepBooks(read.source.files, from);
}

/** What the engineer has answered about the open job's source. */
export function currentAnswers(): ImportAnswers {
  return project.value?.source?.answers ?? noAnswers;
}

/** The open job as its files alone give it, without what was edited since. */
function baseOf(source: ScheduleSource, workbooks: readonly SourceWorkbook[]): Project | null {
  const known = readBy.get(source.readings);
  if (known !== undefined) return known;
  const read = readBooks(workbooks, source.answers);
  if (!read.ok) return null;
  readBy.set(source.readings, read.project);
  return read.project;
}

export interface ReadChange {
  readonly base: Project;
  readonly read: Project;
  readonly from: readonly SourceBook[];
}

/** Reads other files or with other answers; null: refused, and why is said. Changes nothing. */
export async function readOtherwise(
  next: ImportAnswers,
  others?: readonly SourceBook[],
): Promise<ReadChange | null> {
  const now = await loadBooks();
  const source = project.value?.source ?? null;
  if (source === null) return null;
  if (now === null) {
    say('alert', 'The source file is not kept with this job, so it cannot be read again.');
    return null;
  }
  const from = others ?? now;
  const base = baseOf(
    source,
    now.map(({ workbook }) => workbook),
  );
  const read = readBooks(
    from.map(({ workbook }) => workbook),
    next,
  );
  if (!read.ok) {
    const { where, what, todo } = read.refusal;
    say('alert', `${where}: ${what} ${todo} Everything stays read as it was.`);
    return null;
  }
  return base === null ? null : { base, read: read.project, from };
}

/** Takes a reading over as one step of undo, and says what it changed. */
export function takeReading({ base, read, from }: ReadChange, label: string): boolean {
  const before = project.value;
  if (before === null) return false;
  const had = counts.value;
  keepRead(read, from);
  const { changes } = reviseProject(before, base, read);
  if (!run({ label, changes })) return false;
  const after = project.value;
  if (after === null) return false;
  say('status', `${label}: ${effectWords(readEffect(before, after), had, counts.value)}.`);
  return true;
}

/** Reads the files again with other answers. False: nothing changed, and why is said. */
export async function readAgain(next: ImportAnswers, label: string): Promise<boolean> {
  const change = await readOtherwise(next);
  return change !== null && takeReading(change, label);
}

/** Writes answers that change no reading, such as that one is accepted. */
export function noteAnswers(next: ImportAnswers, label: string): boolean {
  const source = project.value?.source ?? null;
  if (source === null) return false;
  const value = { ...source, answers: next };
  return run({ label, changes: [{ kind: 'part', part: 'source', value }] });
}
