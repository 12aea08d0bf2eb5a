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

/** A declared share set excuses two fixtures only with the same start, type and mode. */
function excused(a: SlotHolder, b: SlotHolder): boolean {
  return (
    a.shareSet !== null &&
    a.shareSet === b.shareSet &&
    a.first === b.first &&
    a.last === b.last &&
    a.kind === b.kind
  );
}

/** With more fixtures than this at one slot, each is paired with the first ones only: enough to tell. */
const mostPairsEach = 64;

/** Pairs of one universe that share slots without being a declared share. In order of start. */
export function findOverlaps(holders: readonly SlotHolder[]): Overlap[] {
  const sorted = [...holders].sort((a, b) => a.first - b.first || a.last - b.last);
  const overlaps: Overlap[] = [];
  let open: SlotHolder[] = [];
  for (const holder of sorted) {
    open = open.filter((other) => other.last >= holder.first);
    for (const other of open.slice(0, mostPairsEach)) {
      const slots = sharedSlots(other, holder);
      if (slots > 0 && !excused(other, holder)) overlaps.push({ a: other, b: holder, slots });
    }
    open.push(holder);
  }
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
