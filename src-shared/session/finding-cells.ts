import type { ColumnId } from '../columns/column-table.ts';
import { columnOf, originsOf } from '../document/import-answers.ts';
import { fileCellName } from '../document/origin-cell.ts';
import type { Fixture, RowOrigin, ScheduleSource } from '../document/project.ts';
import type { Finding } from '../limits/finding.ts';

/** The cell of a column id in a row; null where its sheet has no such column. */
function cellAt(source: ScheduleSource, origin: RowOrigin, id: ColumnId): string | null {
  const place = source.columns.findIndex(
    ({ columnId }, at) => columnId === id && columnOf(source, origin, at) !== null,
  );
  const column = place < 0 ? null : columnOf(source, origin, place);
  return column === null ? null : fileCellName(source, origin, column);
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
  const cells = new Set<string>();
  for (const { fixtureId, column } of finding.marks) {
    const fixture = fixtures.get(fixtureId);
    const origins = fixture === undefined ? [] : originsOf(fixture);
    const own = origins.flatMap((origin) => cellAt(source, origin, column) ?? []);
    const [first] = origins;
    const tag = first === undefined ? null : cellAt(source, first, 'tag');
    for (const cell of own.length > 0 ? own : tag === null ? [] : [tag]) cells.add(cell);
  }
  return [...cells];
}
