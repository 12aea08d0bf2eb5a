/** Which sheets of a workbook hold the schedule, and where their headers stand. */
import type { ImportAnswers, ImportQuestion } from '../../document/project.ts';
import type { SourceSheet, SourceWorkbook } from '../../document/source-workbook.ts';
import { ownSheetOf, sheetNames } from '../sheet-names.ts';
import { looseKey } from './cell-text.ts';
import { type FoundHeader, headerAt, type MappedHeaders } from './find-header.ts';
import { joinSheets, withSameTags } from './join-sheets.ts';
import {
  compareSheets,
  isResultSheet,
  type RankedSheet,
  rankSheet,
  rankSheets,
} from './rank-sheets.ts';
import { badOption, noSchedule, type ReadRefusal } from './read-refusal.ts';

/** A sheet that could be read as the schedule, best first. */
export interface SheetCandidate {
  /** Place in the list of files. */
  readonly file: number;
  readonly sheet: string;
  /** The row right above the data. */
  readonly headerRow: number;
  /** How many columns were recognised. */
  readonly columnsKnown: number;
  /** Filled rows below the header. */
  readonly rowsBelow: number;
}

export interface ChosenSheet {
  readonly sheet: SourceSheet;
  readonly header: FoundHeader;
}

export interface SheetsChosen {
  /** In the order of the workbook, or of the answer. */
  readonly read: readonly ChosenSheet[];
  readonly candidates: readonly SheetCandidate[];
  /** Asked where several sheets go together. */
  readonly question: ImportQuestion | null;
  /** Sheets whose tags stand on a sheet that is read. */
  readonly sameTags: ReadonlySet<string>;
  /** The sheet of ours that is read instead of the engineer's own. */
  readonly ownSheet: string | null;
  /** Sheets and header rows of the answers that the file does not have. */
  readonly unused: readonly string[];
}

export type SheetChoice =
  | ({ readonly ok: true } & SheetsChosen)
  | { readonly ok: false; readonly refusal: ReadRefusal };

export interface SheetOptions {
  /** Named by the caller: refused where the file has no such sheet or row. */
  readonly sheet?: string | undefined;
  readonly headerRow?: number | undefined;
  readonly answers: ImportAnswers;
}

function named(workbook: SourceWorkbook, name: string): SourceSheet | null {
  const exact = workbook.sheets.find((sheet) => sheet.name === name);
  if (exact !== undefined) return exact;
  return workbook.sheets.find((sheet) => looseKey(sheet.name) === looseKey(name)) ?? null;
}

function listSheets(workbook: SourceWorkbook): string {
  const names = workbook.sheets.slice(0, 12).map((sheet) => `"${sheet.name}"`);
  return names.length === 0 ? 'The file has no sheets.' : `Its sheets are ${names.join(', ')}.`;
}

function atRow(
  sheets: readonly SourceSheet[],
  row: number,
  workbook: SourceWorkbook,
  mapped: MappedHeaders,
): RankedSheet[] | ReadRefusal {
  const todo = 'Give the number of a filled row, counted as the spreadsheet counts.';
  const option = `--header-row ${row}`;
  if (!Number.isInteger(row) || row < 1) return badOption(option, 'That is no row number.', todo);
  const headers = sheets.flatMap((sheet) => {
    const header = headerAt(sheet, row, mapped);
    return header === null ? [] : [rankSheet(sheet, header, mapped)];
  });
  if (headers.length === 0) {
    const where = sheets.length === 1 ? `sheet "${sheets[0]?.name}"` : workbook.fileName;
    return badOption(option, `Row ${row} of ${where} is empty or beyond the last row.`, todo);
  }
  return headers;
}

/** All sheets that could be read, best first, as the options and answers have it. */
function rank(
  workbook: SourceWorkbook,
  file: number,
  { sheet: sheetName, headerRow, answers }: SheetOptions,
  mapped: MappedHeaders,
): RankedSheet[] | ReadRefusal {
  const rows = new Map(
    answers.headerRows.filter((r) => r.file === file).map((r) => [r.sheet, r.row]),
  );
  let { sheets } = workbook;
  if (sheetName !== undefined) {
    const found = named(workbook, sheetName);
    if (found === null) {
      const what = `There is no sheet "${sheetName}" in ${workbook.fileName}.`;
      return badOption(`--sheet ${sheetName}`, what, listSheets(workbook));
    }
    sheets = [found];
  }
  const all = rankSheets({ ...workbook, sheets }, rows, mapped);
  if (headerRow === undefined) return all;
  const at = atRow(sheets, headerRow, workbook, mapped);
  if (!Array.isArray(at)) return at;
  const atNamed = at.filter((r) => r.header.hasTag).sort(compareSheets);
  const rest = all.filter((r) => !at.some((other) => other.sheet === r.sheet));
  return [...atNamed, ...(atNamed.length === 0 ? [] : rest)];
}

const listed = (sheets: readonly RankedSheet[]): string =>
  sheets.map(({ sheet }) => `"${sheet.name}"`).join(', ');

function questionOf(
  file: number,
  together: readonly RankedSheet[],
  best: RankedSheet,
  answers: ImportAnswers,
): ImportQuestion {
  const answer = answers.questions.find((q) => q.id === 'sheets' && q.file === file)?.value;
  return {
    id: 'sheets',
    file,
    text: `The sheets ${listed(together)} have the same columns. Are they one schedule?`,
    choices: [
      { value: 'all', title: `One schedule over ${together.length} sheets` },
      { value: 'one', title: `Only "${best.sheet.name}"` },
    ],
    chosen: answer === 'one' ? 'one' : 'all',
    answered: answer !== undefined,
  };
}

/** The sheets the engineer has named for this file, in that order; those it does not have. */
function answeredSheets(
  workbook: SourceWorkbook,
  file: number,
  ranked: readonly RankedSheet[],
  answers: ImportAnswers,
): { found: RankedSheet[]; unused: string[] } {
  const names = (answers.sheets ?? []).filter((s) => s.file === file).map((s) => s.sheet);
  const found = names.flatMap((name) => ranked.find((r) => r.sheet.name === name) ?? []);
  const unused = names.flatMap((name) => {
    if (found.some((r) => r.sheet.name === name)) return [];
    const exists = workbook.sheets.some((s) => s.name === name);
    return [`sheet "${name}" ${exists ? 'has no header with a tag column' : 'is not in the file'}`];
  });
  return { found, unused };
}

function unusedHeaderRows(
  workbook: SourceWorkbook,
  file: number,
  ranked: readonly RankedSheet[],
  answers: ImportAnswers,
): string[] {
  return answers.headerRows.flatMap(({ file: of, sheet, row }) => {
    if (of !== file) return [];
    const used = ranked.find((r) => r.sheet.name === sheet)?.header;
    if (used !== undefined && (used.row === row || used.upperRow === row)) return [];
    const exists = workbook.sheets.some((s) => s.name === sheet);
    if (!exists) return [];
    return [`row ${row} of sheet "${sheet}" is no header with a tag column`];
  });
}

/**
 * Chooses the sheet whose header names most columns, a tag among them, and those that go with it;
 * supporting sheets and hidden ones come last. Refused: a sheet or header row of the caller's that
 * does not exist, and a file without tag header.
 */
export function chooseSheets(
  workbook: SourceWorkbook,
  file: number,
  options: SheetOptions,
  mapped: MappedHeaders,
): SheetChoice {
  const ranked = rank(workbook, file, options, mapped);
  if (!Array.isArray(ranked)) return { ok: false, refusal: ranked };
  const { answers } = options;
  const answered = answeredSheets(workbook, file, ranked, answers);
  const ownFixtures = ranked.find(
    ({ sheet, hasOwnIds }) => hasOwnIds && ownSheetOf(sheet.name) === sheetNames.markedUpFixtures,
  );
  const fixed = options.sheet !== undefined || answered.found.length > 0;
  const own = fixed ? undefined : ownFixtures;
  const best = answered.found[0] ?? own ?? ranked[0];
  if (best === undefined) {
    const where = options.sheet === undefined ? workbook.fileName : `sheet "${options.sheet}"`;
    return { ok: false, refusal: noSchedule(where, 'No header row with a tag column was found.') };
  }
  const others = ranked.filter((r) => r !== best && r !== ownFixtures);
  const together =
    own === undefined && options.sheet === undefined ? joinSheets(best, others) : [best];
  const inOrder = workbook.sheets.flatMap((s) => together.find((r) => r.sheet === s) ?? []);
  const asks = !fixed && options.headerRow === undefined && inOrder.length > 1;
  const question = asks ? questionOf(file, inOrder, best, answers) : null;
  const all = question?.chosen === 'one' ? [best] : inOrder;
  const read = answered.found.length > 0 ? answered.found : all;
  const returned = ranked.some((r) => r.hasOwnIds);
  // In a file that came out of our export our own sheets of results are no schedules.
  const rest = ranked.filter(
    (r) => !read.includes(r) && r.hasRows && !(returned && isResultSheet(r)),
  );
  const candidates = [...read, ...rest].map(({ sheet, header, rowsBelow }) => ({
    file,
    sheet: sheet.name,
    headerRow: header.row,
    columnsKnown: header.known,
    rowsBelow,
  }));
  return {
    ok: true,
    read,
    candidates,
    question,
    sameTags: withSameTags(read, rest),
    ownSheet: own?.sheet.name ?? null,
    unused: [...answered.unused, ...unusedHeaderRows(workbook, file, ranked, answers)],
  };
}
