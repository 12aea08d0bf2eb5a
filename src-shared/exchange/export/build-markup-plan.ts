/** The plan of marks for one file of a project. */
import { columnOf, originsOf } from '../../document/import-answers.ts';
import type { Fixture, Project, ScheduleSource, SheetRead } from '../../document/project.ts';
import type { Finding } from '../../limits/finding.ts';
import type { EngineSession } from '../../session/engine-session.ts';
import { projectSheets } from '../project-sheets.ts';
import { ownSheetOf, sheetNames } from '../sheet-names.ts';
import { type CellPlace, cellRanges } from './cell-ranges.ts';
import { FindingMarks } from './finding-marks.ts';
import type { FindingPlaces } from './findings-table.ts';
import type { MarkUpPlan, SheetFacts } from './markup-plan.ts';
import { SheetMarker } from './markup-sheet.ts';
import { NO_LONGER_IN_JOB } from './own-columns.ts';
import { resultTables } from './result-tables.ts';
import { ScheduleLayout } from './schedule-layout.ts';
import { ScheduleRows } from './schedule-rows.ts';
import { scheduleTable } from './schedule-table.ts';
import { SourceCells } from './source-cells.ts';
import { type RowGroup, rowGroups } from './source-row-groups.ts';

/** A sheet of the engineer's that came back with our columns and was not read itself: ours held instead. */
export interface ReturnedSheet {
  readonly read: SheetRead;
  readonly groups: readonly RowGroup[];
  readonly goneRows: readonly number[];
  /** Columns of the schedule, by place in `source.columns`, that stand among ours there. */
  readonly ourColumns: readonly number[];
}

/** What to know of a file's sheets, by name; null: the file has no such sheet. */
export type FactsOf = (sheet: string) => SheetFacts | null;

/** Addresses of the file say their universe, each of them: a column for it would only say it twice. */
function saysUniverses(
  project: Project,
  source: ScheduleSource,
  cells: SourceCells,
  file: number,
): boolean {
  const place = source.columns.findIndex((column) => column.columnId === 'address');
  if (place < 0) return false;
  // A column for it would have the addresses read otherwise.
  if (cells.slots.countsThrough(file)) return true;
  return project.fixtures.every((fixture) => {
    if (fixture.universe === null) return true;
    const own = originsOf(fixture).find((origin) => origin.file === file);
    if (own === undefined) return true;
    const isThere = columnOf(source, own, place) !== null;
    return (
      isThere && fixture.address !== null && cells.slots.notationAt(own, place).kind !== 'slot'
    );
  });
}

/** The file writes each panel together with its circuit: a column for it would have them read otherwise. */
function saysPanels(
  project: Project,
  source: ScheduleSource,
  cells: SourceCells,
  file: number,
): boolean {
  const place = source.columns.findIndex((column) => column.columnId === 'circuit');
  const own = project.fixtures.flatMap((f) => originsOf(f).filter((o) => o.file === file));
  return (
    place >= 0 &&
    own.length > 0 &&
    own.every((origin) => cells.circuits.joinsPanel(origin, place)) &&
    project.circuits.every(({ panel, name }) => panel === null || name !== null)
  );
}

/** Where findings point in the written workbook: into the engineer's own sheets. */
class MarkedPlaces implements FindingPlaces {
  private readonly inSource: ScheduleLayout;

  constructor(
    private readonly project: Project,
    private readonly sheets: ReadonlyMap<string, SheetMarker>,
    private readonly full: { readonly name: string; readonly layout: ScheduleLayout } | null,
  ) {
    this.inSource = new ScheduleLayout(project, { name: '', lead: [], columns: [], rows: [] });
  }

  cellsOf(finding: Finding): string {
    const ranges: string[] = [];
    for (const [sheet, marker] of this.sheets) {
      const places: CellPlace[] = [];
      const marked =
        finding.marks.length > 0
          ? finding.marks.map(({ fixtureId, column }) => ({ fixtureId, column }))
          : finding.fixtureIds.map((fixtureId) => ({ fixtureId, column: 'tag' as const }));
      for (const { fixtureId, column } of marked) {
        for (const row of marker.rowsOf(fixtureId)) {
          places.push({ row, column: marker.columnOfMark(column) });
        }
      }
      if (places.length > 0) ranges.push(`${quoted(sheet)}!${cellRanges(places)}`);
    }
    if (ranges.length > 0 || this.full === null) return ranges.join('; ');
    const there = this.full.layout.cellsOf(finding);
    return there === '' ? '' : `${quoted(this.full.name)}!${there}`;
  }

  sourceCellsOf(finding: Finding): string {
    return this.project.source === null ? '' : this.inSource.sourceCellsOf(finding);
  }
}

function quoted(sheet: string): string {
  return /^[\p{L}_][\p{L}\p{N}_.]*$/u.test(sheet) ? sheet : `'${sheet.replaceAll("'", "''")}'`;
}

/** New fixtures go to the sheet of the nearest one before them, else behind them. */
function addNew(project: Project, markers: ReadonlyMap<string, SheetMarker>): void {
  const find = (fixture: Fixture) => {
    for (const [sheet, marker] of markers) {
      const row = marker.rowsOf(fixture.id).at(-1);
      if (row !== undefined) return { sheet, row };
    }
    return null;
  };
  const places = project.fixtures.map(find);
  const [firstSheet = ''] = markers.keys();
  let near = places.find((place) => place !== null) ?? { sheet: firstSheet, row: null };
  project.fixtures.forEach((fixture, i) => {
    const place = places[i] ?? null;
    if (place !== null) near = place;
    else if (originsOf(fixture).length === 0) markers.get(near.sheet)?.addRow(fixture, near.row);
  });
}

/**
 * What goes into the workbook that `file` of the project's source is: our columns and marks sheet by
 * sheet, new rows, our own sheets. Pure. The project must have a source.
 * @param factsOf what stands in the file beside the cells that were read
 * @param returned sheets of the engineer's in a file whose schedule was read from a sheet of ours
 */
export function markUpPlan(
  project: Project,
  session: EngineSession,
  file: number,
  factsOf: FactsOf,
  returned: readonly ReturnedSheet[] = [],
): MarkUpPlan {
  const source = withReturned(project.source, returned);
  const marks = new FindingMarks(session);
  const markers = new Map<string, SheetMarker>();
  const remarks: string[] = [];
  if (source !== null) {
    const shown = (origin: { sheet: string; row: number }, column: number) =>
      factsOf(origin.sheet)?.shown(origin.row, column) ?? null;
    const cells = new SourceCells(project, source, { file, inPlace: true, shown });
    const rows = new ScheduleRows(project, session, marks, cells);
    const noUniverse = saysUniverses(project, source, cells, file);
    const noPanel = saysPanels(project, source, cells, file);
    const ours = rows.columns.flatMap((column, place) => {
      if (column.from === 'source') return [];
      if (column.from !== 'added') return [place];
      const { id } = column.column;
      return (id === 'universe' && noUniverse) || (id === 'panel' && noPanel) ? [] : [place];
    });
    for (const read of source.sheets) {
      const facts = read.file === file ? factsOf(read.sheet) : null;
      if (facts === null || isFullSheet(read.sheet)) continue;
      const back = returned.find((one) => one.read === read);
      const groups = back?.groups ?? rowGroups(project, source, read);
      const goneRows = back?.goneRows ?? goneIn(read);
      const added = (back?.ourColumns ?? []).map((column) =>
        rows.columns.findIndex((one) => one.from === 'source' && one.place === column),
      );
      const oursHere = [...added.filter((place) => place >= 0), ...ours];
      const fresh = new SourceCells(project, source, { file, inPlace: true, shown });
      const others = source.files.flatMap((_, other) =>
        other === file ? [] : [new SourceCells(project, source, { file: other, inPlace: true })],
      );
      const parts = {
        goneRows,
        project,
        source,
        read,
        facts,
        rows,
        cells: fresh,
        others,
        marks,
        ours: oursHere,
        groups,
      };
      markers.set(read.sheet, new SheetMarker(parts));
    }
    for (const marker of markers.values()) marker.markRows();
    addNew(project, markers);
    for (const [sheet, { unwritten }] of markers) {
      if (unwritten === 0) continue;
      const edits = unwritten === 1 ? '1 edit has' : `${unwritten} edits have`;
      remarks.push(
        `Sheet ${sheet}: ${edits} no cell of its own there (merged, a formula over several cells, or no such column) and stands in the sheet ${sheetNames.markedUpFixtures}; the row's Findings cell has a note.`,
      );
    }
  }
  const isMerged = (source?.files.length ?? 1) > 1;
  const wasFull = source?.sheets.some((read) => isFullSheet(read.sheet)) ?? false;
  const needsFull = isMerged || wasFull || [...markers.values()].some((m) => m.needsFullSheet);
  const full = needsFull
    ? { ...scheduleTable(project, session, marks), name: sheetNames.markedUpFixtures }
    : null;
  const layout =
    full === null ? null : { name: full.name, layout: new ScheduleLayout(project, full) };
  const places = new MarkedPlaces(project, markers, layout);
  const tables = resultTables(project, session, marks, places);
  return {
    sheets: [...markers.values()].map((marker) => marker.result()),
    tables: full === null ? tables : [full, ...tables],
    supports: projectSheets(project),
    remarks,
  };
}

function withReturned(
  source: ScheduleSource | null,
  returned: readonly ReturnedSheet[],
): ScheduleSource | null {
  if (source === null || returned.length === 0) return source;
  return { ...source, sheets: [...source.sheets, ...returned.map(({ read }) => read)] };
}

/** Rows an earlier export said that of. */
function goneIn({ rowsSkipped }: SheetRead): number[] {
  return rowsSkipped.filter(({ reason }) => reason === NO_LONGER_IN_JOB).map(({ row }) => row);
}

function isFullSheet(name: string): boolean {
  return ownSheetOf(name) === sheetNames.markedUpFixtures;
}
