/** The cell at hand in the import view: the preview, the report and the panel speak of the same one. */
import { signal } from '@preact/signals';

export interface ImportHand {
  /** As readings name it. */
  readonly cell: string;
  /** The reading chosen in the report; null: the cell was taken in the preview. */
  readonly readingKey: string | null;
}

export const importHand = signal<ImportHand | null>(null);

/** Asks a grid to take the focus on the cell at hand. The grid answers and clears it. */
export const focusAsked = signal<'preview' | 'report' | null>(null);
