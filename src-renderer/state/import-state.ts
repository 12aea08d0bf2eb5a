/** How the open schedule was read: the workbook and what the engineer answered. */
import { signal } from '@preact/signals';
import type { ScheduleSource } from '../../src-shared/document/project.ts';
import type { SourceWorkbook } from '../../src-shared/document/source-workbook.ts';
import { readSchedule } from '../../src-shared/exchange/read-schedule.ts';
import { connection } from '../host/connection.ts';
import { diffProjects } from './diff-projects.ts';
import { jobFile, project, run } from './document-store.ts';
import { say, sayReason } from './notice.ts';

export interface ImportAnswers {
  readonly sheet: string | null;
  readonly headerRow: number | null;
  /** Header text to column id, where the engineer chose. */
  readonly map: ReadonlyMap<string, string>;
  /** Cell name to the text to read instead; null: leave blank. */
  readonly answers: ReadonlyMap<string, string | null>;
}

export const noAnswers: ImportAnswers = {
  sheet: null,
  headerRow: null,
  map: new Map(),
  answers: new Map(),
};

/** By the report they led to, so that undo of a reading takes its answer back as well. */
const answersBySource = new WeakMap<ScheduleSource, ImportAnswers>();
/** Sheets that could be the schedule; known while the workbook is at hand. */
export const sheetChoices = signal<readonly string[]>([]);
let workbook: SourceWorkbook | null = null;

export function rememberWorkbook(
  source: SourceWorkbook | null,
  sheets: readonly string[] = [],
): void {
  workbook = source;
  sheetChoices.value = sheets;
}

/** Reads a workbook as the engineer has answered. */
export function readWith(source: SourceWorkbook, answers: ImportAnswers) {
  return readSchedule(source, {
    ...(answers.sheet === null ? {} : { sheet: answers.sheet }),
    ...(answers.headerRow === null ? {} : { headerRow: answers.headerRow }),
    map: answers.map,
    answers: answers.answers,
  });
}

const changedNote = /^changed in the import report to "(.*?)"; /u;

/** Answers that led to a report; those of a saved job are read back from the report itself. */
export function answersOf(source: ScheduleSource | null): ImportAnswers {
  if (source === null) return noAnswers;
  const known = answersBySource.get(source);
  if (known !== undefined) return known;
  const answers = new Map<string, string | null>();
  for (const { cell, note, value } of source.readings) {
    const changed = changedNote.exec(note)?.[1];
    if (changed !== undefined) answers.set(cell, changed);
    else if (note === 'left blank in the import report') answers.set(cell, null);
    else if (note === 'changed in the import report') answers.set(cell, String(value ?? ''));
  }
  const first = source.sheets[0];
  return {
    ...noAnswers,
    sheet: first?.sheet ?? null,
    headerRow: first?.headerRow ?? null,
    answers,
  };
}

async function sourceWorkbook(): Promise<SourceWorkbook | null> {
  if (workbook !== null) return workbook;
  const held = jobFile.value.source;
  if (held === null) {
    say('alert', 'The source file is not kept with this job, so it cannot be read again.');
    return null;
  }
  const answer = await connection().host.ask('file.open', { fileId: held.fileId });
  if (!answer.ok) {
    sayReason(answer.reason);
    return null;
  }
  if (answer.value.kind !== 'schedule') return null;
  workbook = answer.value.workbook;
  return workbook;
}

/** Reads the file again with other answers; only what that changes is changed, as one step of undo. */
async function readAgain(next: ImportAnswers, label: string): Promise<void> {
  const source = await sourceWorkbook();
  const now = project.value?.source ?? null;
  if (source === null || now === null) return;
  const before = readWith(source, answersOf(now));
  const after = readWith(source, next);
  if (!after.ok) {
    say('alert', `${after.refusal.what} The file stays read as it was.`);
    return;
  }
  if (!before.ok) return;
  const changes = diffProjects(before.project, after.project);
  if (run({ label, changes })) {
    const report = project.value?.source ?? null;
    if (report !== null) answersBySource.set(report, next);
    say('status', `${label}: read again.`);
  }
}

/** Reads another sheet as the schedule, from the beginning. */
export function answerSheet(sheet: string): Promise<void> {
  return readAgain({ ...noAnswers, sheet }, `Sheet ${sheet}`);
}

/** Reads one cell as another text. */
export function answerCell(cell: string, text: string | null): Promise<void> {
  const now = answersOf(project.value?.source ?? null);
  const answers = new Map(now.answers).set(cell, text);
  return readAgain({ ...now, answers }, `Reading of ${cell}`);
}

/** Reads a source column as another column; null: carry it along unread. */
export function answerColumn(header: string, columnId: string | null): Promise<void> {
  const now = answersOf(project.value?.source ?? null);
  const map = new Map(now.map).set(header, columnId ?? '');
  return readAgain({ ...now, map }, `Column ${header}`);
}
