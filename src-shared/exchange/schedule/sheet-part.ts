/** A sheet that is read as the schedule or a part of it. */
import type { SourceSheet } from '../../document/source-workbook.ts';
import type { FoundHeader } from './find-header.ts';
import type { ColumnPlan } from './plan-columns.ts';
import type { ReadingLog } from './reading-log.ts';

export interface SheetPart {
  /** Place in the list of files. */
  readonly file: number;
  /** How it is told from other sheets behind a header: `Start (L44)`. */
  readonly label: string;
  /** With the engineer's answers in its cells. */
  readonly sheet: SourceSheet;
  /** As it stands in the file. */
  readonly original: SourceSheet;
  readonly header: FoundHeader;
  readonly plan: ColumnPlan;
  readonly log: ReadingLog;
  /** What the sheet's name says of its rows where no column does. */
  readonly implied: { readonly run: string | null; readonly area: string | null };
}
