/** A file of an import before its rows are read. */
import type { SourceWorkbook } from '../../document/source-workbook.ts';
import type { SheetsChosen } from './choose-sheet.ts';
import type { ReadingLog } from './reading-log.ts';
import type { SheetPart } from './sheet-part.ts';

export interface PlannedFile {
  /** Place in the list of files. */
  readonly file: number;
  /** With the engineer's answers in its cells. */
  readonly workbook: SourceWorkbook;
  readonly chosen: SheetsChosen;
  readonly parts: readonly SheetPart[];
  readonly log: ReadingLog;
}
