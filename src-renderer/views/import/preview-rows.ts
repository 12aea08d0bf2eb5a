/** Rows of a previewed sheet: which are shown, and which look the same as before. */
import type { PreviewCell } from '../../../src-shared/exchange/preview/preview-cells.ts';
import type { PreviewRow } from '../../../src-shared/exchange/preview/preview-sheet.ts';
import type { Held } from './held-rows.ts';

export type HeldRow = Held<PreviewRow>;

function sameCell(a: PreviewCell, b: PreviewCell): boolean {
  return (
    a.confidence === b.confidence &&
    a.answered === b.answered &&
    a.accepted === b.accepted &&
    a.note === b.note &&
    a.offer === b.offer &&
    a.text === b.text
  );
}

function sameMap<V>(
  a: ReadonlyMap<number, V>,
  b: ReadonlyMap<number, V>,
  same: (one: V, other: V) => boolean,
): boolean {
  if (a === b) return true;
  if (a.size !== b.size) return false;
  for (const [key, value] of a) {
    const other = b.get(key);
    if (other === undefined || !same(value, other)) return false;
  }
  return true;
}

/** True when a row looks the same as before. */
export function sameRow(a: PreviewRow, b: PreviewRow): boolean {
  return (
    a.row === b.row &&
    a.hidden === b.hidden &&
    a.outcome.kind === b.outcome.kind &&
    a.outcome.text === b.outcome.text &&
    sameMap(a.texts, b.texts, (one, other) => one === other) &&
    sameMap(a.cells, b.cells, sameCell)
  );
}

export const idOfRow = ({ row }: PreviewRow): string => String(row);

export type RowChoice = 'all' | 'fixtures' | 'skipped' | 'open';

/** The rows a choice shows. Header rows always stay. */
export function chooseRows(rows: readonly PreviewRow[], choice: RowChoice): readonly PreviewRow[] {
  if (choice === 'all') return rows;
  return rows.filter(({ outcome, cells }) => {
    if (outcome.kind === 'header') return true;
    if (choice === 'fixtures') return outcome.kind === 'fixture';
    if (choice === 'skipped') return outcome.kind === 'skipped';
    return [...cells.values()].some((cell) => cell.confidence !== 'sure' && !cell.accepted);
  });
}
