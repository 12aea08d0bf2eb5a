import type { ClassifiedRows } from './read-rows.ts';
import type { SheetPart } from './sheet-part.ts';

/** A sheet that is read, with its rows told apart. */
export interface PartRows {
  readonly part: SheetPart;
  readonly classified: ClassifiedRows;
}
