import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Addressable, ownUniverse, planAddresses } from '../../src-shared/dmx/address-plan.ts';
import { seededRandom } from '../electrical/random-runs.ts';
import { pick, type Random, whole } from '../laws/random-project.ts';

// The rules of the check command's contract for addresses, each with a case, then as laws.
// A universe has slots 1 to 512: ANSI E1.11 (DMX512-A), from memory, verify in the adopted edition.

type Given = Partial<Omit<Addressable, 'id' | 'run'>>;

function fixtures(run: string | null, given: readonly Given[]): Addressable[] {
  return given.map((g, i) => ({
    id: `${run ?? 'loose'}${i + 1}`,
    run,
    universe: null,
    address: null,
    footprint: 4,
    addressUnread: false,
    ...g,
  }));
}

const bare = (run: string, count: number, footprint: number | null = 4) =>
  fixtures(
    run,
    Array.from({ length: count }, () => ({ footprint })),
  );

/** Universe, first and last slot of each, as `1:5-8`; `?` where not known, `*` where proposed. */
function planned(runs: readonly (readonly Addressable[])[], loose: readonly Addressable[] = []) {
  const all = [...runs.flat(), ...loose];
  const plan = planAddresses(all, runs);
  expect([...plan]).toHaveLength(all.length);
  return all.map(({ id }) => {
    const slot = plan.get(id);
    const shown = (n: number | null | undefined) => n ?? '?';
    const mark = slot?.proposed === true ? '*' : '';
    return `${shown(slot?.universe)}:${shown(slot?.address)}-${shown(slot?.lastAddress)}${mark}`;
  });
}

describe('rules', () => {
  test('given addresses stand as they are, whatever they overlap or pass', () => {
    const run = fixtures('A', [
      { universe: 7, address: 3 },
      { universe: 7, address: 4 },
      { universe: 9, address: 511 },
    ]);
    expect(planned([run])).toEqual(['7:3-6', '7:4-7', '9:511-514']);
  });

  test('none at all: contiguous from 1, in order of place, universe 1', () => {
    const run = fixtures('A', [{ footprint: 4 }, { footprint: 9 }, { footprint: 1 }]);
    expect(planned([run])).toEqual(['1:1-4*', '1:5-13*', '1:14-14*']);
  });

  test('runs in order of first appearance, one behind the other in one universe', () => {
    expect(planned([bare('B', 2), bare('A', 2)])).toEqual([
      '1:1-4*',
      '1:5-8*',
      '1:9-12*',
      '1:13-16*',
    ]);
  });

  test('a run stays whole: the next universe when it does not fit what is left', () => {
    // 3·120 = 360; 512 − 360 = 152 < 2·120.
    const plan = planned([bare('A', 3, 120), bare('B', 2, 120)]);
    expect(plan.slice(3)).toEqual(['2:1-120*', '2:121-240*']);
  });

  test('a run that fits to the last slot stays', () => {
    expect(planned([bare('A', 4, 100), bare('B', 1, 112)]).at(-1)).toBe('1:401-512*');
    expect(planned([bare('A', 4, 100), bare('B', 1, 113)]).at(-1)).toBe('2:1-113*');
  });

  test('never back to an earlier universe, although there is room', () => {
    const plan = planned([bare('A', 3, 120), bare('B', 2, 120), bare('C', 1, 4)]);
    expect(plan.at(-1)).toBe('2:241-244*');
  });

  test('a run with an unknown footprint gets none, and those behind it go on', () => {
    const odd = fixtures('B', [{ footprint: 4 }, { footprint: null }]);
    expect(planned([bare('A', 1), odd, bare('C', 1)])).toEqual([
      '1:1-4*',
      '?:?-?',
      '?:?-?',
      '1:5-8*',
    ]);
  });

  test('a run over 512 slots gets none, one of 512 does', () => {
    expect(planned([bare('A', 129, 4)]).slice(0, 2)).toEqual(['?:?-?', '?:?-?']);
    expect(planned([bare('A', 128, 4)]).at(-1)).toBe('1:509-512*');
  });

  test('a partly addressed run: the lowest free slots of its own universe, in order of place', () => {
    const run = fixtures('A', [
      { universe: 2, address: 1 },
      {},
      { universe: 2, address: 7 },
      { footprint: 2 },
    ]);
    // 1–4 and 7–10 are taken: 4 slots go to 11–14, 2 slots to 5–6.
    expect(planned([run])).toEqual(['2:1-4', '2:11-14*', '2:7-10', '2:5-6*']);
  });

  test('a gap is filled around the addresses of other runs and of fixtures on no run', () => {
    const a = fixtures('A', [{ universe: 1, address: 1 }, {}]);
    const b = fixtures('B', [{ universe: 1, address: 5 }]);
    const loose = fixtures(null, [{ universe: 1, address: 9 }]);
    expect(planned([a, b], loose)[1]).toBe('1:13-16*');
  });

  test('an address given without universe belongs to its run’s, and is kept free before any gap is filled', () => {
    const run = fixtures('A', [{ universe: 3, address: 100 }, {}, { address: 1 }]);
    expect(planned([run])).toEqual(['3:100-103', '3:5-8*', '3:1-4*']);
  });

  test('so with a run that comes later', () => {
    const a = fixtures('A', [{ universe: 1, address: 20 }, {}]);
    const b = fixtures('B', [{ universe: 1, address: 40 }, { address: 1 }]);
    expect(planned([a, b])[1]).toBe('1:5-8*');
  });

  test('the start of a fixture of unknown footprint is kept free', () => {
    const run = fixtures('A', [{ universe: 1, address: 1, footprint: null }, {}]);
    expect(planned([run])).toEqual(['1:1-?', '1:2-5*']);
  });

  test('a universe without a start is filled when it is the run’s own, and left when it is another', () => {
    const run = fixtures('A', [{ universe: 1, address: 1 }, { universe: 1 }, { universe: 2 }]);
    expect(planned([run])).toEqual(['1:1-4', '1:5-8*', '2:?-?']);
  });

  test('a start without any universe on the run is in none: nothing is guessed', () => {
    expect(planned([fixtures('A', [{ address: 5 }, {}])])).toEqual(['?:5-8', '?:?-?']);
  });

  test('a full universe leaves the gap open', () => {
    const run = fixtures('A', [{ universe: 1, address: 1, footprint: 511 }, { footprint: 2 }]);
    expect(planned([run])).toEqual(['1:1-511', '?:?-?']);
  });

  test('runs without any go to universes behind all that are given', () => {
    const given = fixtures('A', [{ universe: 4, address: 1 }]);
    expect(planned([bare('B', 1), given])).toEqual(['5:1-4*', '4:1-4']);
  });

  test('a fixture on no run is proposed nothing', () => {
    expect(planned([], fixtures(null, [{}]))).toEqual(['?:?-?']);
  });

  test('the own universe is the one most name, the first of equals', () => {
    const of = (...list: (number | null)[]) => ownUniverse(list.map((universe) => ({ universe })));
    expect([of(), of(null), of(2, 1, 1), of(3, 1, 1, 3), of(null, 5)]).toEqual([
      null,
      null,
      1,
      3,
      5,
    ]);
  });
});

function randomRuns(random: Random): Addressable[][] {
  return Array.from({ length: whole(random, 1, 6) }, (_, r) => {
    const how = pick(random, ['none', 'given', 'partly', 'no universe']);
    return fixtures(
      `R${r}`,
      Array.from({ length: whole(random, 1, 12) }, () => {
        const given = how === 'given' || (how === 'partly' && random() < 0.5);
        return {
          footprint: random() < 0.03 ? null : whole(random, 1, 90),
          universe: given && random() < 0.9 ? whole(random, 1, 3) : null,
          address:
            (given && random() < 0.9) || how === 'no universe' ? whole(random, 1, 512) : null,
        };
      }),
    );
  });
}

describe('laws', () => {
  test('a proposal overlaps nothing, stays within 512, and keeps a wholly proposed run together', () => {
    let proposals = 0;
    fc.assert(
      fc.property(fc.integer(), (seed) => {
        const runs = randomRuns(seededRandom(seed));
        const all = runs.flat();
        const plan = planAddresses(all, runs);
        const slots = all.map((f) => ({ f, slot: plan.get(f.id) }));
        let universe = 0;
        for (const members of runs) {
          if (!members.every((f) => f.universe === null && f.address === null)) continue;
          const mine = members.flatMap((f) => plan.get(f.id)?.universe ?? []);
          expect(mine.length === 0 || mine.length === members.length).toBe(true);
          expect(new Set(mine).size).toBeLessThanOrEqual(1);
          expect(mine[0] ?? universe).toBeGreaterThanOrEqual(universe);
          universe = mine[0] ?? universe;
        }
        for (const { f, slot } of slots) {
          if (f.universe !== null) expect(slot?.universe).toBe(f.universe);
          if (f.address !== null) expect(slot?.address).toBe(f.address);
          if (slot?.proposed !== true || f.address !== null) continue;
          proposals += 1;
          const [first, last] = [slot.address ?? 0, slot.lastAddress ?? 0];
          expect(first).toBeGreaterThanOrEqual(1);
          expect(last).toBeLessThanOrEqual(512);
          expect(last - first + 1).toBe(f.footprint);
          for (const { f: g, slot: other } of slots) {
            if (g === f || other?.universe !== slot.universe || other.address === null) continue;
            const apart = other.address > last || (other.lastAddress ?? other.address) < first;
            expect(apart).toBe(true);
          }
        }
      }),
      { seed: 201, numRuns: 1500 },
    );
    expect(proposals).toBeGreaterThan(5000);
  });

  test('same input, same plan', () => {
    fc.assert(
      fc.property(fc.integer(), (seed) => {
        const plan = () => {
          const runs = randomRuns(seededRandom(seed));
          return [...planAddresses(runs.flat(), runs)];
        };
        expect(plan()).toEqual(plan());
      }),
      { seed: 202, numRuns: 100 },
    );
  });
});
