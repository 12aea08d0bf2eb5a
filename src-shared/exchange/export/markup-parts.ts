/** What the marks of one sheet of the engineer's are made from. */
import type { ColumnId } from '../../columns/column-table.ts';
import type { Project, ScheduleSource, SheetRead } from '../../document/project.ts';
import { sheetNames } from '../sheet-names.ts';
import type { FindingMarks } from './finding-marks.ts';
import type { SheetFacts } from './markup-plan.ts';
import type { ScheduleRows } from './schedule-rows.ts';
import type { SourceCells } from './source-cells.ts';
import type { RowGroup } from './source-row-groups.ts';

/** What is said where an edit has no cell of its own. */
export const inOtherSheet = `stands in the sheet ${sheetNames.markedUpFixtures}`;

export interface SheetParts {
  readonly project: Project;
  readonly source: ScheduleSource;
  readonly read: SheetRead;
  readonly facts: SheetFacts;
  readonly rows: ScheduleRows;
  readonly cells: SourceCells;
  /** The cells of the project's other files. */
  readonly others: readonly SourceCells[];
  readonly marks: FindingMarks;
  /** Columns of ours, places in `rows.columns`. */
  readonly ours: readonly number[];
  readonly groups: readonly RowGroup[];
  /** Rows known to stand for nothing any more; they say so again. */
  readonly goneRows: readonly number[];
}

/** A column of the source in one sheet. */
export interface SourcePlace {
  /** Place in `rows.columns`. */
  readonly place: number;
  /** Place in `source.columns`. */
  readonly column: number;
  /** Zero-based column of the sheet; null: the sheet does not have it. */
  readonly at: number | null;
  readonly id: ColumnId | null;
  readonly title: string;
}

/** The cell that shows a place: the first of its merged area. */
export function shownCell(
  facts: SheetFacts,
  row: number,
  column: number,
): { readonly row: number; readonly column: number } {
  const area = facts.mergeAt(row, column);
  return area === null ? { row, column } : { row: area.firstRow, column: area.firstColumn };
}
