/** What an entry being typed is understood as; null while nothing is typed. */
import { signal } from '@preact/signals';
import type { ColumnId } from '../../src-shared/columns/column-table.ts';
import { lengthUnit } from './document-store.ts';
import { readCellText } from './parse-cell.ts';

export interface Understood {
  readonly text: string;
  readonly ok: boolean;
}

export const understood = signal<Understood | null>(null);

/** Reads the text of an open editor without taking it. */
export function showUnderstood(text: string, column: ColumnId): void {
  const read = readCellText(text, column, lengthUnit.value);
  if (read === 'later') understood.value = null;
  else if (!read.ok) understood.value = { text: read.reason, ok: false };
  else understood.value = read.echo === null ? null : { text: read.echo, ok: true };
}
