/** Where the cells of the written schedule stand in its sheet. */
import type { ColumnId } from '../../columns/column-table.ts';
import { columnOf } from '../../document/import-answers.ts';
import { fileCellName } from '../../document/origin-cell.ts';
import type { Fixture, Project, RowOrigin, ScheduleSource } from '../../document/project.ts';
import type { Finding } from '../../limits/finding.ts';
import { type CellPlace, cellRanges } from './cell-ranges.ts';
import type { ExportTable } from './export-table.ts';

/** Lines every sheet of ours has above the lines of its table. */
export const titleLines = 2;

/** Row of the header in the written sheet, counted from 1. */
export function headerRowOf(table: Pick<ExportTable, 'lead'>): number {
  return titleLines + table.lead.length + 1;
}

/** Finds the cells of the written schedule a finding points at. */
export class ScheduleLayout {
  private readonly rows = new Map<string, number>();
  private readonly columns = new Map<ColumnId, number>();
  private readonly tagColumn: number;
  private readonly fixtures: ReadonlyMap<string, Fixture>;

  constructor(
    private readonly project: Project,
    table: ExportTable,
  ) {
    this.fixtures = new Map(project.fixtures.map((fixture) => [fixture.id, fixture]));
    const first = headerRowOf(table) + 1;
    project.fixtures.forEach(({ id }, i) => {
      this.rows.set(id, first + i);
    });
    table.columns.forEach(({ columnId }, i) => {
      if (columnId !== null && !this.columns.has(columnId)) this.columns.set(columnId, i);
    });
    this.tagColumn = this.columns.get('tag') ?? 0;
  }

  /** `K7:K18`; a column that is not in the sheet gives the cells of its tags. Empty: no cell. */
  cellsOf(finding: Finding): string {
    const places: CellPlace[] = [];
    const add = (fixtureId: string, column: number) => {
      const row = this.rows.get(fixtureId);
      if (row !== undefined) places.push({ row, column });
    };
    for (const { fixtureId, column } of finding.marks) {
      add(fixtureId, this.columns.get(column) ?? this.tagColumn);
    }
    if (finding.marks.length === 0) for (const id of finding.fixtureIds) add(id, this.tagColumn);
    return cellRanges(places);
  }

  /** The same for the source file: `Schedule!K7:K18`. Empty where the marks have no cell there. */
  sourceCellsOf(finding: Finding): string {
    const { source } = this.project;
    if (source === null) return '';
    const bySheet = new Map<string, CellPlace[]>();
    for (const { fixtureId, column } of finding.marks) {
      const origin = this.fixtures.get(fixtureId)?.origin ?? null;
      if (origin === null) continue;
      const at = sheetColumn(source, origin, column) ?? sheetColumn(source, origin, 'tag');
      if (at === null) continue;
      const prefix = fileCellName(source, { ...origin, row: 1 }, 0).slice(0, -2);
      const places = bySheet.get(prefix) ?? [];
      bySheet.set(prefix, places);
      places.push({ row: origin.row, column: at });
    }
    return [...bySheet].map(([prefix, places]) => `${prefix}${cellRanges(places)}`).join('; ');
  }
}

/** Zero-based column in the row's sheet; null: not there. */
function sheetColumn(source: ScheduleSource, origin: RowOrigin, id: ColumnId): number | null {
  for (const [place, { columnId }] of source.columns.entries()) {
    const at = columnId === id ? columnOf(source, origin, place) : null;
    if (at !== null) return at;
  }
  return null;
}
