/** The rows of a source sheet with the fixtures they stand for. */
import { originsOf } from '../../document/import-answers.ts';
import type { Fixture, Project, ScheduleSource, SheetRead } from '../../document/project.ts';

export interface RowGroup {
  readonly row: number;
  /** In the order of the document. */
  readonly fixtures: readonly Fixture[];
  /** The row was read as several fixtures, whatever is left of them. */
  readonly isSeveral: boolean;
  /** How many fixtures the row stated; null: it stated no number. */
  readonly stated: number | null;
}

/** Rows of the sheet that still have a fixture, in order of the sheet. */
export function rowGroups(
  project: Project,
  source: ScheduleSource,
  { file, sheet }: Pick<SheetRead, 'file' | 'sheet'>,
): RowGroup[] {
  const quantity = source.columns.findIndex((column) => column.columnId === 'quantity');
  const byRow = new Map<number, { fixtures: Fixture[]; stated: number | null }>();
  for (const fixture of project.fixtures) {
    for (const origin of originsOf(fixture)) {
      if (origin.file !== file || origin.sheet !== sheet) continue;
      const raw = quantity < 0 ? null : Number(origin.cells[quantity] ?? Number.NaN);
      const stated = raw !== null && Number.isInteger(raw) && raw > 0 ? raw : null;
      const group = byRow.get(origin.row);
      if (group === undefined) byRow.set(origin.row, { fixtures: [fixture], stated });
      else group.fixtures.push(fixture);
    }
  }
  return [...byRow]
    .sort(([a], [b]) => a - b)
    .map(([row, { fixtures, stated }]) => ({
      row,
      fixtures,
      stated,
      isSeveral: fixtures.length > 1 || (stated !== null && stated > 1),
    }));
}
