/** The sheets beside the schedule: types, panels, lines, project. Each is optional. */
import type { FixtureType, Line, ProfileId, Supply } from '../../document/project.ts';
import type { SourceSheet } from '../../document/source-workbook.ts';
import { looseKey } from '../schedule/cell-text.ts';
import { findHeader } from '../schedule/find-header.ts';
import { matchJoinedHeader } from '../schedule/match-header.ts';
import type { ReadingLog } from '../schedule/reading-log.ts';
import { sheetNames } from '../sheet-names.ts';
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
const results = new Set(
  [
    sheetNames.findings,
    sheetNames.runs,
    sheetNames.circuits,
    sheetNames.patch,
    sheetNames.takeoff,
    sheetNames.assumptions,
  ].map(looseKey),
);

const chainColumns = new Set(['run', 'place', 'fedFrom', 'span', 'universe', 'address']);

/** Another schedule (an older revision, say) names types and watts too, but is no legend. */
function looksLikeSchedule(sheet: SourceSheet): boolean {
  const header = findHeader(sheet, new Map());
  if (header === null) return false;
  return header.texts.some((t) => chainColumns.has(matchJoinedHeader(t.upper, t.lower)?.id ?? ''));
}

const supportingNames = new Set(
  [sheetNames.types, sheetNames.supplies, sheetNames.lines, sheetNames.project].map(looseKey),
);

/** Reads every supporting sheet but the schedule itself. The file's profile wins over `asked`. */
export function readSupportingSheets(
  sheets: readonly SourceSheet[],
  log: ReadingLog,
  asked: ProfileId,
): SupportingData {
  const types: TableSheet<TypeField>[] = [];
  const supplies: TableSheet<SupplyField>[] = [];
  const lines: TableSheet<LineField>[] = [];
  let project: SourceSheet | null = null;
  const unread: SourceSheet[] = [];
  for (const sheet of sheets) {
    const key = looseKey(sheet.name);
    if (results.has(key) || (!supportingNames.has(key) && looksLikeSchedule(sheet))) continue;
    if (isProjectSheet(sheet)) {
      if (project === null || key === looseKey(sheetNames.project)) project = sheet;
      continue;
    }
    const line = findLinesTable(sheet);
    const supply = line === null ? findSuppliesTable(sheet) : null;
    const type = line === null && supply === null ? findTypesTable(sheet) : null;
    if (line !== null) lines.push(line);
    if (supply !== null) supplies.push(supply);
    if (type !== null) types.push(type);
    const found = line ?? supply ?? type;
    if (found === null && supportingNames.has(key) && sheet.rows.length > 0) unread.push(sheet);
  }
  const words = readProjectSheet(project, log, asked);
  const profile = words.profile ?? asked;
  for (const sheet of unread) {
    const [row] = sheet.rows;
    const [cell] = row?.cells ?? [];
    if (row === undefined || cell === undefined) continue;
    const note = `no header known for a sheet named ${sheet.name} was found: the sheet was not read`;
    const place = { sheet: sheet.name, row: row.number, column: cell.column };
    log.add(place, cell.text, null, null, 'refused', note);
  }
  return {
    project: words,
    profile,
    types: readTypes(types, log),
    supplies: readSupplies(supplies, log),
    lines: readLines(lines, log, profile),
  };
}
