import type { ColumnId } from '../columns/column-table.ts';
import type { Fixture, ScheduleSource } from '../document/project.ts';
import { cellName } from '../document/source-workbook.ts';
import type { Finding } from '../limits/finding.ts';

/** Sheet column of a column id; null where the source has none. */
function sourceColumn(source: ScheduleSource, id: ColumnId): number | null {
  return source.columns.find((column) => column.columnId === id)?.column ?? null;
}

/**
 * Source cells a finding points at, such as `Schedule!K12`. A solved column has no cell of its own:
 * then the tag's cell of that row. Empty without a source.
 */
export function findingCells(
  finding: Finding,
  fixtures: ReadonlyMap<string, Fixture>,
  source: ScheduleSource | null,
): string[] {
  if (source === null) return [];
  const tagColumn = sourceColumn(source, 'tag');
  const cells = new Set<string>();
  for (const { fixtureId, column } of finding.marks) {
    const origin = fixtures.get(fixtureId)?.origin ?? null;
    const at = sourceColumn(source, column) ?? tagColumn;
    if (origin !== null && at !== null) cells.add(cellName(origin.sheet, origin.row, at));
  }
  return [...cells];
}
