import type { CellStyles } from './cell-styles.ts';
import type { PackageParts } from './package-parts.ts';
import type { ReadBudget } from './read-budget.ts';
import type { RichText } from './rich-text.ts';

/** What all sheets of a workbook share while it is read. */
export interface SheetContext {
  readonly parts: PackageParts;
  readonly styles: CellStyles;
  /** Undefined when the workbook has no such part. */
  readonly strings: readonly RichText[] | undefined;
  readonly date1904: boolean;
  readonly budget: ReadBudget;
  readonly remarks: string[];
}

/** `1 note` or `3 notes`. */
export function plural(count: number, thing: string): string {
  return `${count} ${thing}${count === 1 ? '' : 's'}`;
}
