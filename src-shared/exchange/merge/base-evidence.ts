/** Two files that number their universes from different bases, seen by the fixtures both speak of. */
import type { FixtureDraft } from '../schedule/expand-row.ts';

/** Fewest fixtures with a universe in both files that can tell. Our own figure, no source. */
const FEWEST = 3;
/** Part of them that must be apart by one, at the same address. Our own figure, no source. */
const MOST = 0.8;

export interface BaseEvidence {
  /** Which of the two counts one less: the file of the first list or of the second. */
  readonly lower: 'first' | 'second';
  readonly apart: number;
  readonly of: number;
}

/**
 * Evidence that one of two files counts universes from 0: most fixtures that have a universe and the
 * same address in both are exactly one apart, all the same way. Null: none.
 */
export function baseEvidence(
  pairs: readonly (readonly [first: FixtureDraft, second: FixtureDraft])[],
): BaseEvidence | null {
  let below = 0;
  let above = 0;
  let all = 0;
  for (const [first, second] of pairs) {
    const [a, b] = [first.row.number, second.row.number];
    if (a.universe === undefined || b.universe === undefined || a.address !== b.address) continue;
    all += 1;
    if (b.universe - a.universe === 1) below += 1;
    if (a.universe - b.universe === 1) above += 1;
  }
  const apart = Math.max(below, above);
  if (all < FEWEST || apart < all * MOST) return null;
  return { lower: below > above ? 'first' : 'second', apart, of: all };
}
