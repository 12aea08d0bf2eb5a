/** A table of records as columns of text: the one form every smaller view is written in. */
import type { Edit } from '../../src-shared/document/edit-cell.ts';
import type { Severity } from '../../src-shared/limits/limit.ts';

export interface RecordColumn<R> {
  readonly id: string;
  readonly title: string;
  readonly help?: string;
  readonly width: number;
  /** Takes what width is left. */
  readonly flex?: number;
  readonly figures?: boolean;
  readonly text: (record: R) => string;
  /** What an edit starts with, where it is not what is shown. */
  readonly start?: (record: R) => string;
  /** Present: the column is typed. Null: nothing to do. */
  readonly edit?: (record: R, text: string) => Edit | null;
  /** A finding's severity: its letter stands before the text. */
  readonly mark?: (record: R) => Severity | null;
  /** Shade alone, where the text says it already. */
  readonly shade?: (record: R) => Severity | null;
}
