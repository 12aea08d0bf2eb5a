/** What the readers of one row share. */
import type { SourceColumnId } from '../../columns/column-table.ts';
import type { ProfileId } from '../../document/project.ts';
import type { SourceRow } from '../../document/source-workbook.ts';
import type { TagHabit } from './read-text-cell.ts';
import type { PendingLoad } from './row-draft.ts';
import type { SheetHabits } from './sheet-habits.ts';
import type { SheetPart } from './sheet-part.ts';
import type { SheetView } from './sheet-view.ts';
import type { HyphenHabit } from './slot-range.ts';

export interface RowReaderParts {
  readonly part: SheetPart;
  readonly view: SheetView;
  readonly habits: SheetHabits;
  readonly profile: ProfileId;
  /** Start addresses count through all universes. */
  readonly absoluteAddresses: boolean;
  readonly universeBase: 0 | 1;
  /** Start addresses are written with their universe before a point. */
  readonly pointPairs: boolean;
  readonly hyphens: HyphenHabit;
  readonly tags: TagHabit;
}

/** A row while it is read. */
export interface Drafting {
  readonly row: SourceRow;
  readonly text: Partial<Record<SourceColumnId, string>>;
  readonly number: Partial<Record<SourceColumnId, number>>;
  /** Columns whose cell was refused. */
  readonly unread: Set<SourceColumnId>;
  pendingLoad: PendingLoad | null;
  /** Fixtures that words behind a name speak of: `W5 (qty 2)`. */
  counted: number | null;
}
