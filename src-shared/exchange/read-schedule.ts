/** A schedule as a project: `SourceWorkbook` → `Project`, with every reading that was not plain. */
import { isSourceColumnId } from '../columns/column-table.ts';
import { blankLine, blankProject, blankSupply } from '../document/blank.ts';
import { noAnswers } from '../document/import-answers.ts';
import type {
  Assumption,
  Line,
  ProfileId,
  Project,
  Run,
  SourceColumn,
  Supply,
} from '../document/project.ts';
import type { SourceWorkbook } from '../document/source-workbook.ts';
import { nameKey } from '../solve/fixture-facts.ts';
import { applyAnswers } from './schedule/apply-answers.ts';
import { buildFixtures } from './schedule/build-fixtures.ts';
import { buildRuns } from './schedule/build-runs.ts';
import { type ChosenSheet, chooseSheet, type SheetCandidate } from './schedule/choose-sheet.ts';
import { RowExpander } from './schedule/expand-row.ts';
import { joinTypes } from './schedule/join-types.ts';
import { placeFixtures } from './schedule/order-places.ts';
import { type ColumnPlan, mappedHeaders, planColumns } from './schedule/plan-columns.ts';
import { badOption, noSchedule, type ReadRefusal } from './schedule/read-refusal.ts';
import { isConstantPerType, type RowsRead, readRows } from './schedule/read-rows.ts';
import { ReadingLog } from './schedule/reading-log.ts';
import { resolveLoads } from './schedule/resolve-loads.ts';
import type { RowDraft } from './schedule/row-draft.ts';
import { findHabits, type SheetHabits } from './schedule/sheet-habits.ts';
import { NO_LINE } from './sheet-names.ts';
import { readSupportingSheets, type SupportingData } from './tables/supporting-sheets.ts';

export interface ReadOptions {
  readonly sheet?: string;
  /** Row number as the spreadsheet counts; of a two-row header either row. */
  readonly headerRow?: number;
  /** Header text → column id, or `''` to carry the column along unread. */
  readonly map?: ReadonlyMap<string, string>;
  /** Hidden rows are skipped unless `read`. */
  readonly hidden?: 'read' | 'skip';
  /** Where the file names none. */
  readonly profile?: ProfileId;
  /** Cell name (`Schedule!K12`) → text to read instead; null: leave blank. */
  readonly answers?: ReadonlyMap<string, string | null>;
}

export type ReadResult =
  | {
      readonly ok: true;
      readonly project: Project;
      /** The file's own columns in order, with what each was read as. */
      readonly columns: readonly SourceColumn[];
      /** Sheets that could be the schedule, the one read first. */
      readonly candidates: readonly SheetCandidate[];
    }
  | { readonly ok: false; readonly refusal: ReadRefusal };

function refuseMap(map: ReadonlyMap<string, string>): ReadRefusal | null {
  for (const [header, id] of map) {
    if (id === '' || isSourceColumnId(id)) continue;
    const todo = 'Use a column id such as tag, span or load, or nothing to carry the column along.';
    return badOption(`--map ${header}=${id}`, `"${id}" is no column id.`, todo);
  }
  return null;
}

/** The line of the project: as named, or the only one the file describes. */
function defaultLineOf(data: SupportingData, assumptions: Assumption[]): string | null {
  const { lines } = data;
  const named = data.project.settings.defaultLine;
  const isLine = lines.some((line) => nameKey(line.name) === nameKey(named ?? ''));
  if (named !== null && nameKey(named) === NO_LINE && !isLine) return null;
  const [only] = lines;
  if (named !== null || lines.length !== 1 || only === undefined) return named;
  assumptions.push({
    what: 'Line of runs that name none',
    value: only.name,
    unit: null,
    from: 'the only line in the file',
  });
  return only.name;
}

/** Records for lines and panels that only the schedule names, so that they can be filled in. */
function withNamed<T extends { readonly name: string }>(
  records: readonly T[],
  names: Iterable<string | null>,
  blank: (name: string) => T,
): T[] {
  const all = [...records];
  const keys = new Set(all.map((record) => nameKey(record.name)));
  for (const name of names) {
    if (name === null || keys.has(nameKey(name))) continue;
    keys.add(nameKey(name));
    all.push(blank(name));
  }
  return all;
}

interface Readied {
  readonly workbook: SourceWorkbook;
  readonly chosen: ChosenSheet;
  readonly plan: ColumnPlan;
  readonly rows: RowsRead;
  readonly data: SupportingData;
  readonly habits: SheetHabits;
  readonly log: ReadingLog;
  readonly profileAsked: ProfileId | undefined;
}

function projectOf(ready: Readied): Project {
  const { chosen, plan, rows, data, log } = ready;
  const sheet = chosen.sheet.name;
  const teller = { sheet, plan, log };
  const written = rows.drafts.flatMap((row) => row.text.tag ?? []);
  const expander = new RowExpander(plan, sheet, log, written);
  const counts = new Map<RowDraft, number>();
  const expanded = rows.drafts.flatMap((row) => {
    const fixtures = expander.expand(row);
    counts.set(row, fixtures.length);
    return fixtures;
  });
  const placed = placeFixtures(expanded, teller);
  const { runs, circuits, differing } = buildRuns(placed);
  const joined = joinTypes(data.types, rows.drafts, teller);
  const supplies = new Map(runs.map((run) => [run.name, run.supplyV]));
  const runOf = new Map(placed.all.map((one) => [one.draft.row, one.run]));
  const loads = resolveLoads(rows.drafts, {
    sheet,
    plan,
    log,
    types: joined.types,
    supplyOf: (row) => row.number.supply ?? supplies.get(runOf.get(row) ?? '') ?? null,
    countOf: (row) => counts.get(row) ?? 1,
  });
  const original = ready.workbook.sheets.find((s) => s.name === sheet) ?? chosen.sheet;
  const fixtures = buildFixtures(placed.all, {
    plan,
    sheet: original,
    log,
    loadOf: (row) => loads.get(row) ?? null,
    modeOf: joined.modeOf,
    differing,
  });
  const assumptions: Assumption[] = [];
  if (data.project.profile === null) {
    const from = ready.profileAsked === undefined ? 'default' : 'option';
    assumptions.push({ what: 'Profile', value: data.profile, unit: null, from });
  }
  const defaultLine = defaultLineOf(data, assumptions);
  const { fileName } = ready.workbook;
  return {
    ...blankProject(data.project.name ?? (fileName.replace(/\.[^.]*$/u, '') || fileName)),
    revision: data.project.revision,
    settings: {
      ...data.project.settings,
      defaultLine,
      profile: data.profile,
      displayUnit: data.project.displayUnit ?? ready.habits.displayUnit,
    },
    types: joined.types,
    lines: withNamed<Line>(data.lines, [defaultLine, ...linesNamed(runs)], blankLine),
    supplies: withNamed<Supply>(
      data.supplies,
      circuits.map((c) => c.panel),
      blankSupply,
    ),
    circuits,
    runs,
    fixtures,
    assumptions,
    source: {
      files: [{ fileName }],
      sheets: [
        {
          file: 0,
          sheet,
          headerRow: chosen.header.row,
          columnAt: plan.columns.map(({ column }) => column),
          universeBase: 1,
          rowsRead: rows.drafts.length,
          rowsSkipped: rows.skipped,
        },
      ],
      columns: plan.columns.map(({ header, columnId, unit }) => ({ header, columnId, unit })),
      readings: log.readings,
      questions: [],
      answers: noAnswers,
    },
  };
}

function linesNamed(runs: readonly Run[]): (string | null)[] {
  return runs.map((run) => run.line);
}

function tellHeaders({ chosen, plan, log }: Pick<Readied, 'chosen' | 'plan' | 'log'>): void {
  const { sheet, header } = chosen;
  for (const doubt of plan.doubts) {
    const place = { sheet: sheet.name, row: header.row, column: doubt.column };
    log.add(place, doubt.header, doubt.id, null, doubt.confidence, doubt.note);
  }
}

function tellOtherSchedules(candidates: readonly SheetCandidate[], log: ReadingLog): void {
  const [read, ...others] = candidates;
  for (const { sheet, headerRow, rowsBelow } of others) {
    const note = `this sheet looks like a schedule too (${rowsBelow} rows) and was not read; "${read?.sheet}" was`;
    log.add({ sheet, row: headerRow, column: 0 }, sheet, null, null, 'guess', note);
  }
}

/**
 * Reads the schedule of a workbook, its types, panels, lines and project sheet. A cell that cannot
 * be read is null with a reading; only a file without schedule and a wrong option are refused.
 * Never throws. Pure: same workbook and options, same result.
 */
export function readSchedule(workbook: SourceWorkbook, options: ReadOptions): ReadResult {
  const refuse = (refusal: ReadRefusal): ReadResult => ({ ok: false, refusal });
  const map = options.map ?? new Map<string, string>();
  const badMap = refuseMap(map);
  if (badMap !== null) return refuse(badMap);
  const answers = options.answers ?? new Map<string, string | null>();
  const answered = applyAnswers(workbook, answers);
  if (!answered.ok) return answered;
  const choice = chooseSheet(answered.workbook, options, mappedHeaders(map));
  if (!choice.ok) return choice;
  const { chosen, candidates } = choice;
  const { sheet, header } = chosen;
  const below = sheet.rows.filter((row) => row.number > header.row && !row.hidden);
  const planned = planColumns(sheet, header, map, (column, typeColumn) =>
    isConstantPerType(below, column, typeColumn),
  );
  if (!planned.ok) return planned;
  const { plan } = planned;
  const log = new ReadingLog(answered.rawBefore);
  tellHeaders({ chosen, plan, log });
  const others = answered.workbook.sheets.filter((s) => s !== sheet);
  const data = readSupportingSheets(others, log, options.profile ?? 'north-america');
  const habits = findHabits(sheet, header, plan.read, data.profile);
  const rows = readRows(sheet, header, plan, habits, log, {
    profile: data.profile,
    readHidden: options.hidden === 'read',
  });
  if (rows.drafts.length === 0) {
    const where = `sheet "${sheet.name}", header row ${header.row}`;
    return refuse(noSchedule(where, 'No row of fixtures was found below the header.'));
  }
  tellOtherSchedules(candidates, log);
  const project = projectOf({
    workbook,
    chosen,
    plan,
    rows,
    data,
    habits,
    log,
    profileAsked: options.profile,
  });
  log.listAnswers(answers);
  for (const remark of workbook.remarks) log.addRemark(workbook.fileName, remark);
  return { ok: true, project, columns: plan.columns, candidates };
}
