/** One file of an import: its sheets that are read, its rows, and what stands beside them. */
import type {
  ImportAnswers,
  ImportQuestion,
  ProfileId,
  SkippedRow,
} from '../../document/project.ts';
import type { SourceSheet, SourceWorkbook } from '../../document/source-workbook.ts';
import { readSupportingSheets, type SupportingData } from '../tables/supporting-sheets.ts';
import type { ChosenSheet, SheetsChosen } from './choose-sheet.ts';
import { isConstantPerType } from './constant-per-type.ts';
import { hiddenQuestion } from './hidden-rows.ts';
import { hyphenHabit } from './hyphen-habit.ts';
import type { PartRows } from './part-rows.ts';
import { type GivenColumn, planColumns } from './plan-columns.ts';
import type { PlannedFile } from './planned-file.ts';
import { classifyRows, readRows } from './read-rows.ts';
import type { ReadingLog } from './reading-log.ts';
import { tellColours } from './row-colours.ts';
import type { RowDraft } from './row-draft.ts';
import { findHabits, type SheetHabits } from './sheet-habits.ts';
import type { SheetPart } from './sheet-part.ts';
import { labelOf } from './source-columns.ts';
import { tellSheets } from './tell-sheets.ts';
import {
  countsThroughUniverses,
  type UniverseHabits,
  universeHabits,
  writesPoints,
} from './universe-habits.ts';
import { tellUnknownColumns } from './unknown-columns.ts';

export interface SheetRows {
  readonly part: SheetPart;
  readonly drafts: readonly RowDraft[];
  readonly skipped: readonly SkippedRow[];
}

export interface FileRead {
  readonly planned: PlannedFile;
  readonly data: SupportingData;
  readonly sheets: readonly SheetRows[];
  readonly habits: SheetHabits;
  readonly universes: UniverseHabits;
  readonly questions: readonly ImportQuestion[];
}

const namesRun = /^(?:run|line|chain|string|leg|loop)\b\s*\S/iu;

/** What a sheet's name says of its rows, where it is one of several and no column says it. */
function impliedBy(
  sheet: SourceSheet,
  plan: SheetPart['plan'],
  several: boolean,
): SheetPart['implied'] {
  const has = (id: string) => plan.read.some((column) => column.id === id);
  const isRun = several && !has('run') && namesRun.test(sheet.name);
  const isArea = several && !isRun && !has('area');
  return { run: isRun ? sheet.name : null, area: isArea ? sheet.name : null };
}

/** Plans the columns of every sheet of a file that is read. `original`: the file without answers. */
export function planFile(
  file: number,
  workbook: SourceWorkbook,
  original: SourceWorkbook,
  chosen: SheetsChosen,
  given: readonly GivenColumn[],
  log: ReadingLog,
): PlannedFile {
  const several = chosen.read.length > 1;
  const parts = chosen.read.map(({ sheet, header }: ChosenSheet): SheetPart => {
    const below = sheet.rows.filter((row) => row.number > header.row && !row.hidden);
    const label = labelOf(file, workbook.fileName, sheet.name);
    const plan = planColumns(sheet, header, given, label, (column, typeColumn) =>
      isConstantPerType(below, column, typeColumn),
    );
    const asItStands = original.sheets.find((s) => s.name === sheet.name) ?? sheet;
    const implied = impliedBy(sheet, plan, several);
    return { file, label, sheet, original: asItStands, header, plan, log, implied };
  });
  return { file, workbook, chosen, parts, log };
}

export function readSupport(planned: PlannedFile, asked: ProfileId): SupportingData {
  const read = new Set(planned.parts.map(({ sheet }) => sheet));
  const others = planned.workbook.sheets.filter((sheet) => !read.has(sheet));
  const ownExport = planned.parts.some(({ plan }) => plan.rowIdColumn !== null);
  return readSupportingSheets(others, planned.log, asked, ownExport);
}

/** Reads the rows of all sheets of a file. */
export function readFile(
  planned: PlannedFile,
  data: SupportingData,
  profile: ProfileId,
  answers: ImportAnswers,
): FileRead {
  const { file, parts, workbook } = planned;
  const readHidden =
    answers.questions.find((q) => q.id === 'hidden-rows' && q.file === file)?.value === 'read';
  tellSheets(planned);
  const rows: PartRows[] = parts.map((part) => ({
    part,
    classified: classifyRows(part, readHidden),
  }));
  const hyphens = hyphenHabit(rows);
  const universes = universeHabits(rows, file, workbook.fileName, answers, hyphens);
  const absoluteAddresses = countsThroughUniverses(rows, hyphens);
  const pointPairs = writesPoints(rows);
  const habits = parts.map(({ sheet, header, plan }) =>
    findHabits(sheet, header, plan.read, profile),
  );
  const sheets = rows.map((one, at): SheetRows => {
    const ofSheet = habits[at] ?? { byColumn: new Map(), displayUnit: 'm' };
    tellUnknownColumns(one, data.types);
    tellColours(one);
    const { base: universeBase } = universes;
    const universeMarks = { absoluteAddresses, universeBase, pointPairs, hyphens };
    const context = { habits: ofSheet, profile, ...universeMarks };
    return { part: one.part, ...readRows(one.part, one.classified, context) };
  });
  const hidden = hiddenQuestion(parts, file, workbook.fileName, answers);
  const questions = [planned.chosen.question, hidden, universes.question].filter((q) => q !== null);
  const [first] = habits;
  return {
    planned,
    data,
    sheets,
    habits: first ?? { byColumn: new Map(), displayUnit: 'm' },
    universes,
    questions,
  };
}
