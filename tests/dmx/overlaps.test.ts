import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { findOverlaps, groupOverlaps, type SlotHolder } from '../../src-shared/dmx/overlaps.ts';
import { UniverseMap } from '../../src-shared/dmx/slot-range.ts';
import { seededRandom } from '../electrical/random-runs.ts';
import { pick, type Random, whole } from '../laws/random-project.ts';

const holder = (
  id: string,
  first: number,
  last: number,
  share: string | null = null,
): SlotHolder => ({
  id,
  first,
  last,
  shareSet: share,
  kind: 'k',
});

const pairs = (holders: readonly SlotHolder[]) =>
  findOverlaps(holders).map(({ a, b, slots }) => `${a.id}${b.id}:${slots}`);

describe('overlaps', () => {
  test('neighbours are apart, one slot is enough', () => {
    expect(pairs([holder('a', 1, 4), holder('b', 5, 8)])).toEqual([]);
    expect(pairs([holder('a', 1, 4), holder('b', 4, 7)])).toEqual(['ab:1']);
  });

  test('nine slots stepped by five: each neighbour shares four', () => {
    const holders = [0, 1, 2, 3].map((i) => holder('abcd'[i] ?? '', 91 + 5 * i, 99 + 5 * i));
    expect(pairs(holders)).toEqual(['ab:4', 'bc:4', 'cd:4']);
    expect(groupOverlaps(findOverlaps(holders))).toHaveLength(1);
  });

  test('a declared share excuses equal start, type and mode only', () => {
    const a = holder('a', 1, 4, 'S');
    expect(pairs([a, holder('b', 1, 4, 'S')])).toEqual([]);
    expect(pairs([a, holder('b', 1, 4, 'T')])).toEqual(['ab:4']);
    expect(pairs([a, holder('b', 1, 4)])).toEqual(['ab:4']);
    expect(pairs([a, holder('b', 2, 5, 'S')])).toEqual(['ab:3']);
    expect(pairs([a, { ...holder('b', 1, 4, 'S'), kind: 'other' }])).toEqual(['ab:4']);
    expect(pairs([holder('a', 1, 4), holder('b', 1, 4)])).toEqual(['ab:4']);
  });

  test('seventy that share one address and one stray: the stray meets all it is paired with', () => {
    const mates = Array.from({ length: 70 }, (_, i) => holder(`m${i}`, 1, 4, 'S'));
    expect(findOverlaps(mates)).toEqual([]);
    const found = findOverlaps([holder('stray', 1, 4), ...mates]);
    // The stray comes first: every mate is paired with it, none is left out.
    expect(new Set(found.map((o) => o.b.id)).size).toBe(70);
  });

  test('groups hang together through shared fixtures, others stand apart', () => {
    const found = findOverlaps([
      holder('a', 1, 4),
      holder('b', 4, 7),
      holder('c', 7, 9),
      holder('x', 20, 24),
      holder('y', 22, 30),
    ]);
    const groups = groupOverlaps(found).map((g) => g.map((o) => o.a.id + o.b.id));
    expect(groups).toEqual([['ab', 'bc'], ['xy']]);
  });

  test('ten thousand on one address are found in a moment, each of them named', () => {
    const many = Array.from({ length: 10_000 }, (_, i) => holder(`h${i}`, 1, 4));
    const start = performance.now();
    const found = findOverlaps(many);
    expect(performance.now() - start).toBeLessThan(5_000);
    expect(new Set(found.flatMap(({ a, b }) => [a.id, b.id])).size).toBe(10_000);
    expect(groupOverlaps(found)).toHaveLength(1);
  });
});

function randomUniverse(random: Random): SlotHolder[] {
  return Array.from({ length: whole(random, 0, 30) }, (_, i) => {
    const first = random() < 0.4 ? pick(random, [1, 50, 51]) : whole(random, 1, 480);
    return {
      id: `h${i}`,
      first,
      last: Math.min(512, first + whole(random, 1, 30) - 1),
      shareSet: random() < 0.4 ? pick(random, ['S', 'T']) : null,
      kind: pick(random, ['k', 'l']),
    };
  });
}

/** Which of the 512 slots a fixture holds, one by one. */
const bitmap = (h: SlotHolder) =>
  Array.from({ length: 512 }, (_, i) => i + 1 >= h.first && i + 1 <= h.last);

test('against every pair of bitmaps of 512 slots', () => {
  let found = 0;
  fc.assert(
    fc.property(fc.integer(), (seed) => {
      const holders = randomUniverse(seededRandom(seed));
      const maps = holders.map(bitmap);
      const expected = new Map<string, number>();
      holders.forEach((a, i) => {
        holders.slice(i + 1).forEach((b, k) => {
          const other = maps[i + 1 + k] ?? [];
          const shared = (maps[i] ?? []).filter((on, slot) => on && other[slot] === true).length;
          const sameRange = a.first === b.first && a.last === b.last;
          const sharing = a.shareSet !== null && a.shareSet === b.shareSet;
          if (shared === 0 || (sharing && sameRange && a.kind === b.kind)) return;
          expected.set([a.id, b.id].sort().join(), shared);
        });
      });
      const overlaps = findOverlaps(holders);
      const got = new Map(overlaps.map((o) => [[o.a.id, o.b.id].sort().join(), o.slots]));
      expect(overlaps).toHaveLength(got.size);
      expect([...got].sort()).toEqual([...expected].sort());
      found += got.size;
      // Groups: every pair once, no fixture in two groups.
      const groups = groupOverlaps(overlaps);
      expect(groups.flat()).toHaveLength(overlaps.length);
      const members = groups.map((g) => new Set(g.flatMap(({ a, b }) => [a.id, b.id])));
      const total = members.reduce((sum, set) => sum + set.size, 0);
      expect(new Set(members.flatMap((set) => [...set])).size).toBe(total);
    }),
    { seed: 203, numRuns: 400 },
  );
  expect(found).toBeGreaterThan(1000);
});

test('the lowest free stretch, against looking at every slot', () => {
  fc.assert(
    fc.property(fc.integer(), (seed) => {
      const random = seededRandom(seed);
      const map = new UniverseMap();
      const taken = new Set<number>();
      for (let i = whole(random, 0, 25); i > 0; i -= 1) {
        const first = whole(random, -5, 515);
        const last = first + whole(random, 0, 40);
        map.take(first, last);
        for (let slot = first; slot <= last; slot += 1) taken.add(slot);
      }
      const [from, length] = [whole(random, -3, 520), whole(random, 1, 60)];
      let expected: number | null = null;
      for (
        let first = Math.max(1, from);
        first + length - 1 <= 512 && expected === null;
        first += 1
      ) {
        const free = Array.from({ length }, (_, i) => first + i).every((slot) => !taken.has(slot));
        if (free) expected = first;
      }
      expect(map.firstFreeFrom(from, length)).toBe(expected);
    }),
    { seed: 204, numRuns: 500 },
  );
});
