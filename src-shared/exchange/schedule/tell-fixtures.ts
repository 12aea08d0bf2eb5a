/** What is told of fixtures once they stand on their runs. */
import type { PlacedDraft } from './order-places.ts';
import { tellRow } from './tell-row.ts';

/** The spacing of a row that stands for several fixtures holds between each two of them. */
export function tellSpacings(
  placed: readonly PlacedDraft[],
  hasLeadIn: (run: string) => boolean,
): void {
  for (const { draft, place, run } of placed) {
    const { row, nth, of } = draft;
    const span = row.number.span ?? null;
    if (nth > 0 || of < 2 || span === null) continue;
    const between = `the spacing of ${of} fixtures, each from the one before`;
    const leadIn = place === 1 && (run === null || !hasLeadIn(run));
    const note = leadIn
      ? `${between}; no lead-in is stated: taken for that of the first too`
      : between;
    tellRow(row, 'span', { value: span, confidence: leadIn ? 'guess' : 'likely', note });
  }
}
