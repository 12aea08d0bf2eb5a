/** The sheets beside the schedule: types, panels, lines, project. Each is optional. */
import type { FixtureType, Line, ProfileId, Supply } from '../../document/project.ts';
import type { SourceSheet } from '../../document/source-workbook.ts';
import { looseKey } from '../schedule/cell-text.ts';
import { findHeader } from '../schedule/find-header.ts';
import { matchJoinedHeader } from '../schedule/match-header.ts';
import type { ReadingLog } from '../schedule/reading-log.ts';
import { ownSheetOf, sheetNames } from '../sheet-names.ts';
import { findLinesTable, type LineField, readLines } from './read-lines.ts';
import { isProjectSheet, type ProjectWords, readProjectSheet } from './read-project.ts';
import { findSuppliesTable, readSupplies, type SupplyField } from './read-supplies.ts';
import { findTypesTable, readTypes, type TypeField } from './read-types.ts';
import type { TableSheet } from './table-sheet.ts';

export interface SupportingData {
  readonly project: ProjectWords;
  readonly profile: ProfileId;
  readonly types: readonly FixtureType[];
  readonly supplies: readonly Supply[];
  readonly lines: readonly Line[];
}

/** Sheets our export makes from solved numbers: never read back. */
const results: readonly string[] = [
  sheetNames.findings,
  sheetNames.runs,
  sheetNames.circuits,
  sheetNames.patch,
  sheetNames.takeoff,
  sheetNames.assumptions,
  sheetNames.markedUpFixtures,
];

const chainColumns = new Set(['run', 'place', 'fedFrom', 'span', 'universe', 'address']);

/** Another schedule (an older revision, say) names types and watts too, but is no legend. */
function looksLikeSchedule(sheet: SourceSheet): boolean {
  const header = findHeader(sheet, new Map());
  if (header === null) return false;
  return header.texts.some((t) => chainColumns.has(matchJoinedHeader(t.upper, t.lower)?.id ?? ''));
}

const supportingNames: readonly string[] = [
  sheetNames.types,
  sheetNames.supplies,
  sheetNames.lines,
  sheetNames.project,
];

type Kind = 'types' | 'supplies' | 'lines' | 'project';

interface FoundTables {
  readonly types: TableSheet<TypeField>[];
  readonly supplies: TableSheet<SupplyField>[];
  readonly lines: TableSheet<LineField>[];
  readonly projects: SourceSheet[];
  /** Sheets named as ours in which no header was found. */
  readonly unread: SourceSheet[];
}

function findTables(sheets: readonly SourceSheet[]): FoundTables {
  const found: FoundTables = { types: [], supplies: [], lines: [], projects: [], unread: [] };
  for (const sheet of sheets) {
    const own = ownSheetOf(sheet.name);
    const supports = own !== null && supportingNames.includes(own);
    if ((own !== null && results.includes(own)) || (!supports && looksLikeSchedule(sheet)))
      continue;
    if (isProjectSheet(sheet)) {
      found.projects.push(sheet);
      continue;
    }
    const line = findLinesTable(sheet);
    const supply = line === null ? findSuppliesTable(sheet) : null;
    const type = line === null && supply === null ? findTypesTable(sheet) : null;
    if (line !== null) found.lines.push(line);
    if (supply !== null) found.supplies.push(supply);
    if (type !== null) found.types.push(type);
    const table = line ?? supply ?? type;
    if (table === null && supports && sheet.rows.length > 0) found.unread.push(sheet);
  }
  return found;
}

/**
 * In a file that came out of our export the sheet of ours holds, alone: what stands on the engineer's
 * own is in it. Named `Types`, or `Types, Runledger` where the engineer has a sheet of that name.
 */
function oursAlone<T>(
  all: readonly T[],
  kind: Kind,
  sheetOf: (one: T) => SourceSheet,
  log: ReadingLog,
): readonly T[] {
  const name = sheetNames[kind];
  const ours = all.filter((one) => ownSheetOf(sheetOf(one).name) === name);
  const [first] = ours;
  if (first === undefined) return all;
  const own = ours.find((one) => looseKey(sheetOf(one).name) !== looseKey(name)) ?? first;
  const others = all.filter((one) => one !== own).map((one) => `"${sheetOf(one).name}"`);
  const sheet = sheetOf(own);
  if (others.length > 0) {
    const note = `this sheet of the marked-up schedule was read, ${others.join(', ')} not`;
    const place = { sheet: sheet.name, row: sheet.rows[0]?.number ?? 1, column: 0 };
    log.add(place, sheet.rows[0]?.cells[0]?.text ?? '', null, null, 'sure', note);
  }
  return [own];
}

function tellUnread(sheets: readonly SourceSheet[], log: ReadingLog): void {
  for (const sheet of sheets) {
    const [row] = sheet.rows;
    const [cell] = row?.cells ?? [];
    if (row === undefined || cell === undefined) continue;
    const note = `no header known for a sheet named ${sheet.name} was found: the sheet was not read`;
    const place = { sheet: sheet.name, row: row.number, column: cell.column };
    log.add(place, cell.text, null, null, 'refused', note);
  }
}

/**
 * Reads every supporting sheet but the schedule itself. The file's profile wins over `asked`.
 * `ownExport`: the file came out of our export.
 */
export function readSupportingSheets(
  sheets: readonly SourceSheet[],
  log: ReadingLog,
  asked: ProfileId,
  ownExport: boolean,
): SupportingData {
  const found = findTables(sheets);
  const tableSheet = (table: { readonly sheet: SourceSheet }) => table.sheet;
  const choose = <T>(all: readonly T[], kind: Kind, sheetOf: (one: T) => SourceSheet) =>
    ownExport ? oursAlone(all, kind, sheetOf, log) : all;
  const projects = choose(found.projects, 'project', (sheet) => sheet);
  const project =
    projects.find((sheet) => ownSheetOf(sheet.name) === sheetNames.project) ?? projects[0] ?? null;
  const words = readProjectSheet(project, log, asked);
  const profile = words.profile ?? asked;
  tellUnread(found.unread, log);
  return {
    project: words,
    profile,
    types: readTypes(choose(found.types, 'types', tableSheet), log),
    supplies: readSupplies(choose(found.supplies, 'supplies', tableSheet), log),
    lines: readLines(choose(found.lines, 'lines', tableSheet), log, profile),
  };
}
