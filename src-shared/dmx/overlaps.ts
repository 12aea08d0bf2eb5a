import { sharedSlots } from './slot-range.ts';

/** A fixture in a universe, for overlap. */
export interface SlotHolder {
  readonly id: string;
  readonly first: number;
  readonly last: number;
  readonly shareSet: string | null;
  /** Type and mode; members of a share set must agree. */
  readonly kind: string;
}

export interface Overlap {
  readonly a: SlotHolder;
  readonly b: SlotHolder;
  /** Slots both hold. */
  readonly slots: number;
}

/** Holders that a declared share set excuses among themselves: same start, type and mode. */
function shareKey(holder: SlotHolder, order: number): string {
  return holder.shareSet === null
    ? `\u0000${order}`
    : [holder.shareSet, holder.first, holder.last, holder.kind].join('\u0000');
}

/**
 * With more fixtures than this at one slot, each is paired with the first ones only: every fixture
 * still appears, and the work stays small.
 */
const mostPairsEach = 64;

/** Pairs of one universe that share slots without being a declared share. In order of start. */
export function findOverlaps(holders: readonly SlotHolder[]): Overlap[] {
  const sorted = [...holders].sort((a, b) => a.first - b.first || a.last - b.last);
  const overlaps: Overlap[] = [];
  /** Holders behind whose last slot the sweep has not come yet, by share. */
  const open = new Map<string, SlotHolder[]>();
  sorted.forEach((holder, order) => {
    const mine = shareKey(holder, order);
    let room = mostPairsEach;
    for (const [key, others] of open) {
      const [first] = others;
      // All of one share end at one slot; alone otherwise.
      if (first === undefined || first.last < holder.first) open.delete(key);
      else if (key !== mine) {
        for (const other of others.slice(0, room)) {
          overlaps.push({ a: other, b: holder, slots: sharedSlots(other, holder) });
        }
        room -= Math.min(room, others.length);
        if (room === 0) break;
      }
    }
    const share = open.get(mine);
    if (share === undefined) open.set(mine, [holder]);
    else share.push(holder);
  });
  return overlaps;
}

/** Overlaps that hang together through shared fixtures, as groups. */
export function groupOverlaps(overlaps: readonly Overlap[]): Overlap[][] {
  const parent = new Map<string, string>();
  const rootOf = (id: string): string => {
    let root = id;
    for (let up = parent.get(root); up !== undefined; up = parent.get(root)) root = up;
    return root;
  };
  for (const { a, b } of overlaps) {
    const [rootA, rootB] = [rootOf(a.id), rootOf(b.id)];
    if (rootA !== rootB) parent.set(rootB, rootA);
  }
  const groups = new Map<string, Overlap[]>();
  for (const overlap of overlaps) {
    const root = rootOf(overlap.a.id);
    const group = groups.get(root);
    if (group === undefined) groups.set(root, [overlap]);
    else group.push(overlap);
  }
  return [...groups.values()];
}
