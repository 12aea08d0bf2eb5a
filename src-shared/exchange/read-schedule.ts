/** A schedule as a project: one `SourceWorkbook` or several → `Project`, with every reading that was not plain. */
import type {
  ImportAnswers,
  ImportQuestion,
  ProfileId,
  Project,
  SourceColumn,
} from '../document/project.ts';
import type { SourceWorkbook } from '../document/source-workbook.ts';
import { mergeFile } from './merge/merge-files.ts';
import { mergeSupport } from './merge/merge-support.ts';
import { type Answered, answerCells } from './schedule/answered-cells.ts';
import { assembleProject } from './schedule/assemble-project.ts';
import { chooseSheets, type SheetCandidate } from './schedule/choose-sheet.ts';
import { type FixtureDraft, RowExpander } from './schedule/expand-row.ts';
import { uniqueFileNames } from './schedule/file-names.ts';
import { foldAnswers, foldSheet, refuseMapHeaders, refuseMapIds } from './schedule/fold-answers.ts';
import { mappedHeaders } from './schedule/plan-columns.ts';
import type { PlannedFile } from './schedule/planned-file.ts';
import { noSchedule, type ReadRefusal } from './schedule/read-refusal.ts';
import { type FileRead, planFile, readFile, readSupport } from './schedule/read-workbook.ts';
import { ReadingBook } from './schedule/reading-log.ts';
import { baseQuestion } from './schedule/universe-habits.ts';
import { tellUnusedAnswers } from './schedule/unused-answers.ts';

export interface ReadOptions {
  /** A sheet of the first file. */
  readonly sheet?: string;
  /** Row number as the spreadsheet counts; of a two-row header either row. */
  readonly headerRow?: number;
  /** Header text → column id, or `''` to carry the column along unread. */
  readonly map?: ReadonlyMap<string, string>;
  /** Hidden rows are skipped unless `read`. */
  readonly hidden?: 'read' | 'skip';
  /** Where the file names none. */
  readonly profile?: ProfileId;
  /** What the engineer has answered; what no longer fits the files is told and not used. */
  readonly answers?: ImportAnswers;
}

export type ReadResult =
  | {
      readonly ok: true;
      readonly project: Project;
      /** The files' own columns in order, with what each was read as. */
      readonly columns: readonly SourceColumn[];
      /** Sheets that could be the schedule, those read first. */
      readonly candidates: readonly SheetCandidate[];
    }
  | { readonly ok: false; readonly refusal: ReadRefusal };

type Planned =
  | { readonly ok: true; readonly files: readonly PlannedFile[] }
  | { readonly ok: false; readonly refusal: ReadRefusal };

/** Chooses sheets and plans columns, file by file. */
function planFiles(
  { workbooks }: Answered,
  originals: readonly SourceWorkbook[],
  options: ReadOptions,
  answers: ImportAnswers,
  book: ReadingBook,
): Planned {
  const mapped = mappedHeaders(answers.columns);
  const files: PlannedFile[] = [];
  for (const [file, workbook] of workbooks.entries()) {
    const { sheet, headerRow } = file === 0 ? options : {};
    const chosen = chooseSheets(workbook, file, { sheet, headerRow, answers }, mapped);
    if (!chosen.ok) return chosen;
    const original = originals[file] ?? workbook;
    const log = book.logOf(file, workbook.fileName);
    files.push(planFile(file, workbook, original, chosen, answers.columns, log));
  }
  return { ok: true, files };
}

/** A file whose sheets hold a header but no row of fixtures. */
function refuseEmpty({ planned, sheets }: FileRead): ReadRefusal | null {
  if (sheets.some(({ drafts }) => drafts.length > 0)) return null;
  const [part] = planned.parts;
  const sheet = `sheet "${part?.sheet.name}", header row ${part?.header.row}`;
  const where = planned.file === 0 ? sheet : `${planned.workbook.fileName}, ${sheet}`;
  return noSchedule(where, 'No row of fixtures was found below the header.');
}

/** The fixtures of all files, those of one tag made one, and the questions that raises. */
function mergeAll(
  files: readonly FileRead[],
  answers: ImportAnswers,
  book: ReadingBook,
): { drafts: readonly FixtureDraft[]; questions: ImportQuestion[]; basesDiffer: boolean } {
  const rows = files.map(({ sheets }) => sheets.flatMap(({ drafts }) => drafts));
  const expander = new RowExpander(rows.flat().flatMap((row) => row.text.tag ?? []));
  const [first = [], ...others] = rows.map((list) => list.flatMap((row) => expander.expand(row)));
  const names = files.map(({ planned }) => planned.workbook.fileName);
  const questions: ImportQuestion[] = [];
  let drafts: readonly FixtureDraft[] = first;
  let basesDiffer = false;
  for (const [index, next] of others.entries()) {
    const file = index + 1;
    const before = names.slice(0, file);
    const merged = mergeFile(drafts, next, {
      file,
      fileName: names[file] ?? '',
      before,
      answers,
      book,
    });
    drafts = merged.drafts;
    basesDiffer ||= merged.basesDiffer;
    if (merged.question !== null) questions.push(merged.question);
  }
  return { drafts, questions, basesDiffer };
}

/** Files that state universes are all asked for their base when one of them is, or they seem to differ. */
function basesOfOthers(files: readonly FileRead[], basesDiffer: boolean): ImportQuestion[] {
  const asked = files.some(({ universes }) => universes.question !== null);
  if (!asked && !basesDiffer) return [];
  return files.flatMap(({ planned, universes }) => {
    if (universes.question !== null || !universes.stated) return [];
    const { file, workbook } = planned;
    return [baseQuestion(file, workbook.fileName, universes.base, false, null, undefined)];
  });
}

/**
 * Reads the schedule of a workbook, or of several merged by tag, with types, panels, lines and
 * project sheet. A cell that cannot be read is null with a reading; only a file without schedule and
 * a wrong option are refused. Never throws. Pure: same workbooks and options, same result.
 */
export function readSchedule(
  workbook: SourceWorkbook | readonly SourceWorkbook[],
  options: ReadOptions,
): ReadResult {
  const refuse = (refusal: ReadRefusal): ReadResult => ({ ok: false, refusal });
  const originals = uniqueFileNames('sheets' in workbook ? [workbook] : workbook);
  const map = options.map ?? new Map<string, string>();
  const badMap = refuseMapIds(map);
  if (badMap !== null) return refuse(badMap);
  if (originals.length === 0) return refuse(noSchedule('', 'No file was given.'));
  const asked = foldAnswers(options, originals.length);
  const answered = answerCells(originals, asked.cells);
  const book = new ReadingBook(answered.answered);
  const planned = planFiles(answered, originals, options, asked, book);
  if (!planned.ok) return planned;
  const badHeader = refuseMapHeaders(map, planned.files);
  if (badHeader !== null) return refuse(badHeader);
  const answers = foldSheet(asked, options, planned.files);
  const profileAsked = options.profile ?? 'north-america';
  const support = planned.files.map((file) => ({
    fileName: file.workbook.fileName,
    data: readSupport(file, profileAsked),
  }));
  const data = mergeSupport(support, book);
  const files = planned.files.map((file) => readFile(file, data, data.profile, answers));
  for (const file of files) {
    const empty = refuseEmpty(file);
    if (empty !== null) return refuse(empty);
  }
  const merged = mergeAll(files, answers, book);
  const questions = [
    ...files.flatMap((file) => file.questions),
    ...basesOfOthers(files, merged.basesDiffer),
    ...merged.questions,
  ];
  const { drafts } = merged;
  const project = assembleProject({
    files,
    drafts,
    data,
    questions,
    answers,
    book,
    profileAsked: options.profile,
  });
  book.listAnswers();
  tellUnusedAnswers(planned.files, answers, answered.stale, book);
  for (const { fileName, remarks } of originals)
    for (const remark of remarks) book.addRemark(fileName, remark);
  const candidates = planned.files.flatMap(({ chosen }) => chosen.candidates);
  return { ok: true, project, columns: project.source?.columns ?? [], candidates };
}
