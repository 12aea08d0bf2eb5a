/** What a hyphen in a start address means in a file: `2-101`, universe and slot, or `1-4`, the slots taken. */
import type { SourceColumnId } from '../../columns/column-table.ts';
import type { SourceCell, SourceRow } from '../../document/source-workbook.ts';
import { normaliseText } from '../../units/normalise-text.ts';
import { cleanText } from './cell-text.ts';
import type { PartRows } from './part-rows.ts';
import { plainCount } from './read-count-cell.ts';
import { type HyphenHabit, slotRange } from './slot-range.ts';

function cellOf({ part }: PartRows, row: SourceRow, id: SourceColumnId): SourceCell | undefined {
  const column = part.plan.read.find((c) => c.id === id)?.column;
  return column === undefined ? undefined : row.cells.find((cell) => cell.column === column);
}

function countIn(one: PartRows, row: SourceRow, id: 'universe' | 'footprint' | 'quantity') {
  const cell = cellOf(one, row, id);
  return cell === undefined ? null : plainCount(cell, id);
}

/** Above 0: slots are meant. A range is as long as the footprint, or goes on where the last one ended. */
function voteOf(one: PartRows, row: SourceRow, text: string, lastBefore: number | null): number {
  const range = slotRange(text);
  if (range === null) return -1;
  const slots = range.last - range.first + 1;
  const footprint = countIn(one, row, 'footprint');
  if (footprint !== null) {
    const count = Math.max(1, countIn(one, row, 'quantity') ?? 1);
    return slots === footprint || slots === footprint * count ? 1 : -1;
  }
  const universe = countIn(one, row, 'universe');
  if (universe !== null) return universe === range.first ? -1 : 1;
  if (lastBefore === null) return 0;
  return range.first === lastBefore + 1 ? 1 : -1;
}

/** Settles it over all rows of a file that stand for fixtures. */
export function hyphenHabit(parts: readonly PartRows[]): HyphenHabit {
  let votes = 0;
  for (const one of parts) {
    let last: number | null = null;
    for (const { row, reason } of one.classified.rows) {
      const cell = reason === null ? cellOf(one, row, 'address') : undefined;
      const text = cell?.kind === 'text' && cell.struck !== true ? cleanText(cell.text) : '';
      if (!/^\d{1,6} ?- ?\d{1,6}$/u.test(normaliseText(text))) continue;
      votes += voteOf(one, row, text, last);
      last = slotRange(text)?.last ?? null;
    }
  }
  return votes === 0 ? null : votes > 0 ? 'range' : 'pair';
}
