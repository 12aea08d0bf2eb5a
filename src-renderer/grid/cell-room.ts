import type { ColumnId } from '../../src-shared/columns/column-table.ts';
import { cellContent } from '../state/cell-text.ts';
import type { FixtureRow } from '../state/row-model.ts';

/** How much of its room a number takes: a bar that fills, or a tick between two ends. */
export interface Room {
  readonly kind: 'bar' | 'tick';
  /** 0 to 1 within the room; over 1 or under 0: out of it. */
  readonly share: number;
}

/** Cumulative current against the line's rating; volts between the type's minimum and the supply. */
export function room(row: FixtureRow, column: ColumnId): Room | null {
  const { run } = row;
  if (run === null) return null;
  const value = cellContent(row, column);
  if (typeof value !== 'number') return null;
  if (column === 'cumulativeCurrent') {
    const ratingA = run.line?.ratingA ?? null;
    return ratingA === null || ratingA <= 0 ? null : { kind: 'bar', share: value / ratingA };
  }
  if (column === 'voltsHere') {
    const { minV } = row.facts;
    if (minV === null || run.supplyV === null || minV >= run.supplyV) return null;
    return { kind: 'tick', share: (value - minV) / (run.supplyV - minV) };
  }
  return null;
}
