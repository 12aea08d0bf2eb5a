/** Where the cells of the written schedule stand in its sheet. */
import type { ColumnId } from '../../columns/column-table.ts';
import type { Project, RowOrigin } from '../../document/project.ts';
import { cellName } from '../../document/source-workbook.ts';
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
  private readonly origins = new Map<string, RowOrigin>();
  /** Columns of the source's sheet. */
  private readonly sourceColumns = new Map<string, number>();

  constructor(project: Project, table: ExportTable) {
    for (const { id, origin } of project.fixtures)
      if (origin !== null) this.origins.set(id, origin);
    for (const { columnId, column } of project.source?.columns ?? []) {
      if (columnId !== null) this.sourceColumns.set(columnId, column);
    }
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
    const bySheet = new Map<string, CellPlace[]>();
    for (const { fixtureId, column } of finding.marks) {
      const origin = this.origins.get(fixtureId);
      const at = this.sourceColumns.get(column) ?? this.sourceColumns.get('tag');
      if (origin === undefined || at === undefined) continue;
      const places = bySheet.get(origin.sheet) ?? [];
      bySheet.set(origin.sheet, places);
      places.push({ row: origin.row, column: at });
    }
    const parts = [...bySheet].map(
      ([sheet, places]) => `${sheetPrefix(sheet)}${cellRanges(places)}`,
    );
    return parts.join('; ');
  }
}

/** `Schedule!`, quoted where the name asks for it. */
function sheetPrefix(sheet: string): string {
  return cellName(sheet, 1, 0).slice(0, -2);
}
