import { ExactSums } from './exact-sums.ts';
import { fromUnits, type StockGrid, stockGrid, toUnits } from './length-grid.ts';

/** What a choice of pieces aims at first; the other aim decides ties. */
export type PieceChoice = 'fewest-joints' | 'least-excess';

/** Stock pieces that together cover a length. Shared between calls: never changed. */
export interface StockPieces {
  /** Lengths in metres, longest first. */
  readonly pieces: readonly number[];
  /** Their sum, m. */
  readonly lengthM: number;
  /** Sum less the length needed, m; 0 when they meet to within half of 1/8 µm. */
  readonly excessM: number;
}

/** Pieces for one length, or null when the stock cannot cover it. */
export type StockChooser = (needM: number, maxPieces?: number) => StockPieces | null;

/** No choice holds more pieces than this. */
export const MOST_PIECES = 100_000;

/** Least-excess tables end here (6 MB); longer needs first take whole longest pieces. */
const MOST_CELLS = 1 << 20;
const MOST_REMEMBERED = 20_000;
const MOST_PIECES_REMEMBERED = 64;

const NOTHING: StockPieces = Object.freeze({ pieces: Object.freeze([]), lengthM: 0, excessM: 0 });

/**
 * Stock pieces that cover `needM` metres, exactly: fewest pieces and then least excess, or least
 * excess and then fewest pieces; further ties go to the choice with the longest pieces. null when
 * `needM` is negative or not finite, or no choice of at most `maxPieces` (100,000) pieces covers it.
 */
export function chooseStockPieces(
  needM: number,
  stockLengthsM: readonly number[],
  choice: PieceChoice,
  maxPieces: number = MOST_PIECES,
): StockPieces | null {
  return createStockChooser(stockLengthsM, choice)(needM, maxPieces);
}

/**
 * The same for many lengths of one stock: tables are made once and answers remembered, so that
 * spans that repeat are look-ups. Memory is bounded whatever is asked.
 */
export function createStockChooser(
  stockLengthsM: readonly number[],
  choice: PieceChoice,
): StockChooser {
  const grid = stockGrid(stockLengthsM);
  const choose = grid === null ? null : countsBy(grid, choice);
  const remembered = new Map<number, StockPieces>();
  return (needM, maxPieces = MOST_PIECES) => {
    if (!(needM >= 0 && needM < Infinity)) return null;
    const needUnits = toUnits(needM);
    if (needUnits === 0) return NOTHING;
    if (grid === null || choose === null) return null;
    const known = remembered.get(needUnits);
    if (known !== undefined && known.pieces.length <= maxPieces) return known;
    const most = Math.min(maxPieces, MOST_PIECES);
    const indices = choose(Math.ceil(needUnits / grid.unitsPerCell), most);
    if (indices === null) return null;
    const answer = answerOf(grid, indices, needUnits);
    if (known === undefined && most === MOST_PIECES && indices.length <= MOST_PIECES_REMEMBERED) {
      if (remembered.size >= MOST_REMEMBERED) remembered.clear();
      remembered.set(needUnits, answer);
    }
    return answer;
  };
}

/** Indices into the grid's lengths, ascending, for a need in cells, or null. */
type ChooseIndices = (need: number, most: number) => number[] | null;

function countsBy(grid: StockGrid, choice: PieceChoice): ChooseIndices {
  return choice === 'fewest-joints' ? fewestJoints(grid.cells) : leastExcess(grid.cells);
}

/**
 * The fewest pieces are ⌈need/longest⌉. Among choices of that many, the least excess gives back the
 * most: every shorter piece instead of a longest gives back the difference, and together they may
 * give back what the longest pieces have over. Sums of differences up to one longest piece suffice.
 */
function fewestJoints(cells: readonly number[]): ChooseIndices {
  const longest = cells[0] as number;
  const gives = new ExactSums(cells.slice(1).map((piece) => longest - piece));
  return (need, most) => {
    const count = Math.ceil(need / longest);
    if (count > most) return null;
    let give = count * longest - need;
    while (!fits(gives.fewestFor(give), count)) give--;
    const shorter = gives.choiceFor(give).map((index) => index + 1);
    return [...new Array<number>(count - shorter.length).fill(0), ...shorter];
  };
}

/**
 * The least sum from the need upward that can be made exactly, with the fewest pieces that make it.
 * It is found before need + longest, since a choice with a longest piece to spare is not the least.
 * A need beyond the table first takes longest pieces. That loses nothing while the table is at least
 * longest² cells (longest piece up to 1,024 cells): of any `longest` shorter pieces some add up to a
 * whole number of longest ones, which are fewer. On a finer grid a need beyond the table (1 km on a
 * grid of 1 mm) is covered, but its least excess is not proven.
 */
function leastExcess(cells: readonly number[]): ChooseIndices {
  const longest = cells[0] as number;
  const sums = new ExactSums(cells);
  return (need, most) => {
    const whole = Math.max(0, Math.ceil((need - MOST_CELLS) / longest));
    const rest = need - whole * longest;
    if (Math.ceil(need / longest) > most) return null;
    for (let sum = rest; sum < rest + longest; sum++) {
      if (!fits(sums.fewestFor(sum), most - whole)) continue;
      return [...new Array<number>(whole).fill(0), ...sums.choiceFor(sum)];
    }
    return null;
  };
}

function fits(count: number, most: number): boolean {
  return count >= 0 && count <= most;
}

function answerOf(grid: StockGrid, indices: readonly number[], needUnits: number): StockPieces {
  let units = 0;
  for (const index of indices) units += grid.units[index] as number;
  return Object.freeze({
    pieces: Object.freeze(indices.map((index) => grid.lengthsM[index] as number)),
    lengthM: fromUnits(units),
    excessM: fromUnits(units - needUnits),
  });
}
