import { describe, expect, test } from 'vitest';
import {
  chooseStockPieces,
  createStockChooser,
  MOST_PIECES,
  type PieceChoice,
} from '../../src-shared/takeoff/stock-pieces.ts';
import { seededRandom } from '../electrical/random-runs.ts';
import { readReference } from '../reference/read-reference.ts';

const FT = 0.3048;
const CHOICES: readonly PieceChoice[] = ['fewest-joints', 'least-excess'];

/** Pieces in feet for a need and a stock in feet. */
function feet(need: number, stock: readonly number[], choice: PieceChoice, most?: number) {
  const answer = chooseStockPieces(
    need * FT,
    stock.map((ft) => ft * FT),
    choice,
    most,
  );
  if (answer === null) return null;
  return answer.pieces.map((m) => Math.round((m / FT) * 1e6) / 1e6);
}

/**
 * Every multiset of whole-numbered pieces with a sum under `need` + longest that covers the need
 * (one more piece would be to spare): the best by count and excess, by trying them all.
 */
function bruteForce(need: number, stock: readonly number[], choice: PieceChoice) {
  const sorted = [...new Set(stock)].sort((a, b) => b - a);
  const limit = need + (sorted[0] ?? 0);
  let best: { count: number; sum: number } | null = null;
  const visit = (index: number, count: number, sum: number) => {
    if (sum >= need) {
      const byCount = best === null ? -1 : count - best.count;
      const bySum = best === null ? -1 : sum - best.sum;
      const first = choice === 'fewest-joints' ? byCount || bySum : bySum || byCount;
      if (best === null || first < 0) best = { count, sum };
      return;
    }
    const piece = sorted[index];
    if (piece === undefined) return;
    for (let n = 0; sum + n * piece < limit; n++) {
      visit(index + 1, count + n, sum + n * piece);
      if (sum + n * piece >= need) break;
    }
  };
  if (need > 0) visit(0, 0, 0);
  return need > 0 ? best : { count: 0, sum: 0 };
}

describe.each(CHOICES)('against brute force, %s', (choice) => {
  test.each([[[2, 8, 15, 30]], [[3, 7, 12]], [[4, 9, 20]], [[3, 5]], [[10, 6, 5]], [[10, 7, 1]]])(
    'every need from 0 to 100 ft by half feet from %j ft',
    (stock) => {
      const chooser = createStockChooser(
        stock.map((ft) => ft * FT),
        choice,
      );
      for (let half = 0; half <= 200; half++) {
        const need = half / 2;
        const best = bruteForce(need, stock, choice);
        const answer = chooser(need * FT);
        expect(answer?.pieces.length).toBe(best?.count);
        expect((answer?.lengthM ?? 0) / FT).toBeCloseTo(best?.sum ?? -1, 9);
        expect((answer?.excessM ?? 0) / FT).toBeCloseTo((best?.sum ?? 0) - need, 9);
        expect(answer?.pieces.every((piece) => stock.some((ft) => ft * FT === piece))).toBe(true);
        expect((answer?.pieces ?? []).reduce((a, b) => a + b, 0) / FT).toBeCloseTo(
          best?.sum ?? -1,
          9,
        );
      }
    },
  );

  test('300 random stocks and needs in centimetres, kept seed', () => {
    const random = seededRandom(77);
    for (let round = 0; round < 300; round++) {
      const stock = Array.from(
        { length: 1 + Math.floor(random() * 4) },
        () => 20 + Math.floor(random() * 90),
      );
      const need = 1 + Math.floor(random() * 400);
      const best = bruteForce(need, stock, choice);
      const answer = chooseStockPieces(
        need / 100,
        stock.map((cm) => cm / 100),
        choice,
      );
      expect([answer?.pieces.length, Math.round((answer?.lengthM ?? 0) * 100)]).toEqual([
        best?.count,
        best?.sum,
      ]);
    }
  });
});

describe('single answers', () => {
  test('16 ft from 1, 5, 10, 25, 50 ft at least excess: 10 + 5 + 1 (common practice, no source)', () => {
    expect(feet(16, [1, 5, 10, 25, 50], 'least-excess')).toEqual([10, 5, 1]);
  });

  // arithmetic, checked by brute force above
  test.each([
    [12, 'fewest-joints', [15]],
    [12, 'least-excess', [8, 2, 2]],
    [14, 'fewest-joints', [15]],
    [14, 'least-excess', [8, 2, 2, 2]],
    [10, 'fewest-joints', [15]],
    [10, 'least-excess', [8, 2]],
    [7, 'fewest-joints', [8]],
    [7, 'least-excess', [8]],
    [30, 'fewest-joints', [30]],
    [30.5, 'fewest-joints', [30, 2]],
    [31, 'least-excess', [15, 8, 8]],
  ] as const)('%d ft from 2, 8, 15, 30 ft by %s', (need, choice, pieces) => {
    expect(feet(need, [2, 8, 15, 30], choice)).toEqual(pieces);
  });

  test('greedy is wrong here: {3, 5} for 9, {10, 6, 5} for 11, {10, 7, 1} for 14, {3, 7, 12} for 14', () => {
    expect(feet(9, [3, 5], 'least-excess')).toEqual([3, 3, 3]);
    expect(feet(11, [10, 6, 5], 'fewest-joints')).toEqual([6, 5]);
    expect(feet(14, [10, 7, 1], 'fewest-joints')).toEqual([7, 7]);
    expect(feet(14, [3, 7, 12], 'fewest-joints')).toEqual([7, 7]);
  });

  test('WE30 (Miller and Ranum, from memory): 63 from 1, 5, 10, 21, 25 is 3 × 21', () => {
    const published = readReference('worked_examples').find((row) => row.text('id') === 'WE30');
    expect(published?.text('published_answer')).toContain('min 3 pieces (3x21)');
    for (const choice of CHOICES) {
      expect(feet(63, [1, 5, 10, 21, 25], choice)).toEqual([21, 21, 21]);
    }
  });

  test('ties go to the longest piece: 8 + 6 before 7 + 7, 10 + 7 + 7 before 9 + 9 + 6', () => {
    for (const choice of CHOICES) {
      expect(feet(14, [6, 7, 8], choice)).toEqual([8, 6]);
      expect(feet(24, [6, 7, 9, 10], choice)).toEqual([10, 7, 7]);
    }
  });

  test('at most so many pieces: excess grows, then nothing is left', () => {
    expect(feet(12, [2, 8, 15, 30], 'least-excess', 2)).toEqual([15]);
    expect(feet(14, [2, 8], 'least-excess', 3)).toEqual([8, 8]);
    expect(feet(46, [2, 8, 15, 30], 'fewest-joints', 1)).toBeNull();
    expect(feet(46, [2, 8, 15, 30], 'least-excess', 1)).toBeNull();
  });

  test('a limit of one call does not stay for the next', () => {
    const chooser = createStockChooser([2 * FT, 8 * FT, 15 * FT], 'least-excess');
    const lengths = (most?: number) => chooser(12 * FT, most)?.pieces.length;
    expect([lengths(2), lengths(), lengths(2), lengths(3)]).toEqual([1, 3, 1, 3]);
  });
});

describe('a hair of rounding', () => {
  test('12 ft written in any way is met by 8 + 2 + 2 ft with no excess', () => {
    const chooser = createStockChooser([8 * FT, 2 * FT, 15 * FT], 'least-excess');
    for (const need of [12 * FT, 3.6576, 144 * 0.0254, 8 * FT + 2 * FT + 2 * FT, 0.1 + 3.5576]) {
      for (const hair of [0, 1e-15, -1e-15, 4e-9]) {
        expect(chooser(need + hair)).toMatchObject({ lengthM: 3.6576, excessM: 0 });
      }
    }
    expect(chooser(3.6577)?.pieces.length).toBe(4); // a tenth of a millimetre more is more
  });

  test('inches to a 64th, hundredths of a foot and tenths of a millimetre add up', () => {
    for (const unit of [0.0254 / 64, 0.01 * FT, 1e-4]) {
      const chooser = createStockChooser([7001 * unit, 3000 * unit], 'least-excess');
      expect(chooser(7001 * unit + 5 * 3000 * unit)?.pieces.length).toBe(6);
      expect(chooser((7001 + 5 * 3000) * unit)?.excessM).toBe(0);
    }
  });
});

describe('odd stock, odd needs', () => {
  test.each(CHOICES)('no need, no pieces; no stock, no answer (%s)', (choice) => {
    expect(chooseStockPieces(0, [1], choice)).toEqual({ pieces: [], lengthM: 0, excessM: 0 });
    expect(chooseStockPieces(0, [], choice)).toEqual({ pieces: [], lengthM: 0, excessM: 0 });
    expect(chooseStockPieces(1, [], choice)).toBeNull();
    expect(chooseStockPieces(1, [0, -2, Number.NaN, Infinity], choice)).toBeNull();
    for (const need of [-1, Number.NaN, Infinity]) {
      expect(chooseStockPieces(need, [1], choice)).toBeNull();
    }
    expect(chooseStockPieces(1.5, [1, 1, Number.NaN, 0], choice)?.pieces).toEqual([1, 1]);
  });

  test.each(CHOICES)(
    '300 m and 30 km are covered, 1e9 m is not, and none of it takes long (%s)',
    (choice) => {
      const before = performance.now();
      for (const stock of [
        [2 * FT, 8 * FT, 15 * FT],
        [0.601, 2.399, 8.999],
        [1.2345678, 5.4321],
      ]) {
        const chooser = createStockChooser(stock, choice);
        for (const need of [300, 30_000]) {
          const answer = chooser(need);
          expect(answer?.lengthM).toBeGreaterThanOrEqual(need);
          expect(answer?.excessM).toBeLessThan(choice === 'least-excess' ? Math.min(...stock) : 9);
          const total = answer?.pieces.reduce((a, b) => a + b, 0);
          expect(total).toBeCloseTo(answer?.lengthM ?? -1, 5);
        }
        expect(chooser(1e9)).toBeNull();
        expect(chooser(1e300)).toBeNull();
      }
      expect(chooseStockPieces(MOST_PIECES, [1], choice)?.pieces.length).toBe(MOST_PIECES);
      expect(chooseStockPieces(MOST_PIECES + 1, [1], choice)).toBeNull();
      expect(performance.now() - before).toBeLessThan(20_000); // a hang, not a speed
    },
  );

  test('a need beyond the table is still exact on a sane grid: 500 km of 1 ft steps', () => {
    const chooser = createStockChooser([3 * FT, 7 * FT, 120 * FT], 'least-excess');
    // 5 is no sum of 3 and 7, so one of the 9,000 pieces of 120 has to go as well
    const need = 120 * 9000 + 5;
    const answer = chooser(need * FT);
    expect(answer?.excessM).toBe(0);
    // one 120 and 5 are 125 = 17 × 7 + 2 × 3, the fewest of 3 and 7 for it: 19 pieces
    expect(answer?.pieces.length).toBe(8999 + 19);
  });

  test('answers are shared and cannot be changed', () => {
    const chooser = createStockChooser([1, 2], 'least-excess');
    const answer = chooser(3);
    expect(chooser(3)).toBe(answer);
    expect(Object.isFrozen(answer) && Object.isFrozen(answer?.pieces)).toBe(true);
  });
});
