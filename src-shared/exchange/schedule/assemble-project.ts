/** The project from the rows of all files and what stands beside them. */
import { blankLine, blankProject, blankSupply } from '../../document/blank.ts';
import type {
  Assumption,
  ImportAnswers,
  ImportQuestion,
  Line,
  ProfileId,
  Project,
  Run,
  SheetRead,
  Supply,
} from '../../document/project.ts';
import { nameKey } from '../../solve/fixture-facts.ts';
import { tellConflict } from '../merge/merge-rows.ts';
import { NO_LINE } from '../sheet-names.ts';
import type { SupportingData } from '../tables/supporting-sheets.ts';
import { buildFixtures } from './build-fixtures.ts';
import { buildRuns } from './build-runs.ts';
import type { FixtureDraft } from './expand-row.ts';
import { joinTypes } from './join-types.ts';
import { type PlacedDraft, placeFixtures } from './order-places.ts';
import type { FileRead } from './read-workbook.ts';
import type { ReadingBook } from './reading-log.ts';
import { type ResolvedLoad, resolveLoads } from './resolve-loads.ts';
import type { RowDraft } from './row-draft.ts';
import { sourceColumns } from './source-columns.ts';
import { tellSpacings } from './tell-fixtures.ts';

export interface AssembleInput {
  readonly files: readonly FileRead[];
  readonly drafts: readonly FixtureDraft[];
  readonly data: SupportingData;
  readonly questions: readonly ImportQuestion[];
  readonly answers: ImportAnswers;
  readonly book: ReadingBook;
  readonly profileAsked: ProfileId | undefined;
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

/** The run a row stands on, for the row itself and for those it was merged from. */
function runsOfRows(placed: readonly PlacedDraft[]): ReadonlyMap<RowDraft, string | null> {
  const runs = new Map<RowDraft, string | null>();
  for (const { draft, run } of placed) {
    runs.set(draft.row, run);
    for (const { row } of draft.row.mergedFrom) runs.set(row, run);
  }
  return runs;
}

function loadsOf(
  rows: readonly RowDraft[],
  placed: readonly PlacedDraft[],
  runs: readonly Run[],
  types: Project['types'],
): ReadonlyMap<RowDraft, ResolvedLoad> {
  const supplies = new Map(runs.map((run) => [run.name, run.supplyV]));
  const runOf = runsOfRows(placed);
  const counts = new Map(placed.map(({ draft }) => [draft.row, draft.of]));
  return resolveLoads(rows, {
    types,
    supplyOf: (row) => supplies.get(runOf.get(row) ?? '') ?? null,
    countOf: (row) => counts.get(row) ?? 1,
    tellConflict: (first, second, tag) => tellConflict(first, second, 'load', tag),
  });
}

function sheetsRead(
  files: readonly FileRead[],
  columns: ReturnType<typeof sourceColumns>,
): SheetRead[] {
  return files.flatMap(({ planned, sheets, universes }) =>
    sheets.map(({ part, drafts, skipped }) => ({
      file: planned.file,
      sheet: part.sheet.name,
      headerRow: part.header.row,
      columnAt: columns.columnAt.get(part) ?? [],
      universeBase: universes.base,
      rowsRead: drafts.length,
      rowsSkipped: skipped,
    })),
  );
}

/** Puts the project together. At least one file. */
export function assembleProject(input: AssembleInput): Project {
  const { files, drafts, data, book } = input;
  const rows = [...new Set(drafts.map(({ row }) => row))];
  const placed = placeFixtures(drafts);
  const { runs, circuits, differing } = buildRuns(placed);
  const joined = joinTypes(data.types, rows);
  const loads = loadsOf(rows, placed.all, runs, joined.types);
  const withLeadIn = new Set(runs.flatMap((run) => (run.leadInM === null ? [] : [run.name])));
  tellSpacings(placed.all, (run) => withLeadIn.has(run));
  const columns = sourceColumns(files.flatMap(({ sheets }) => sheets.map(({ part }) => part)));
  const fixtures = buildFixtures(placed.all, {
    columns,
    loadOf: (row) => loads.get(row) ?? { loadW: null, conflict: false },
    typeOf: joined.typeOf,
    modeOf: joined.modeOf,
    differing,
  });
  const assumptions: Assumption[] = [];
  if (data.project.profile === null) {
    const from = input.profileAsked === undefined ? 'default' : 'option';
    assumptions.push({ what: 'Profile', value: data.profile, unit: null, from });
  }
  const defaultLine = defaultLineOf(data, assumptions);
  const fileNames = files.map(({ planned }) => planned.workbook.fileName);
  const [fileName = ''] = fileNames;
  const lineNames = [defaultLine, ...runs.map((run) => run.line)];
  const panels = circuits.map((circuit) => circuit.panel);
  return {
    ...blankProject(data.project.name ?? (fileName.replace(/\.[^.]*$/u, '') || fileName)),
    revision: data.project.revision,
    settings: {
      ...data.project.settings,
      defaultLine,
      profile: data.profile,
      displayUnit: data.project.displayUnit ?? files[0]?.habits.displayUnit ?? 'm',
    },
    types: joined.types,
    lines: withNamed<Line>(data.lines, lineNames, blankLine),
    supplies: withNamed<Supply>(data.supplies, panels, blankSupply),
    circuits,
    runs,
    fixtures,
    assumptions,
    source: {
      files: fileNames.map((name) => ({ fileName: name })),
      sheets: sheetsRead(files, columns),
      columns: columns.columns,
      readings: book.readings,
      questions: input.questions,
      answers: input.answers,
    },
  };
}
