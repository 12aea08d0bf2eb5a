/**
 * Lengths as whole numbers, so that 8 ft + 2 ft + 2 ft is 12 ft to the last bit.
 *
 * The unit is 1/8 µm: feet to a hundredth, inches to a 64th and millimetres to a thousandth are all
 * whole numbers of it, and lengths closer than half of it count as equal.
 */
const UNITS_PER_M = 8_000_000;

/** A longest piece of more cells than this is reckoned on a coarser grid. */
const MOST_CELLS_OF_A_PIECE = 1 << 18;

/** Whole units nearest to a length in metres. */
export function toUnits(lengthM: number): number {
  return Math.round(lengthM * UNITS_PER_M);
}

/** Metres of a whole number of units. */
export function fromUnits(units: number): number {
  return units / UNITS_PER_M;
}

/** Stock lengths on a grid of `unitsPerCell` units a cell, longest first, no two alike. */
export interface StockGrid {
  readonly unitsPerCell: number;
  readonly lengthsM: readonly number[];
  readonly units: readonly number[];
  readonly cells: readonly number[];
}

/**
 * The stock on its coarsest exact grid (the greatest common divisor), or null when no length in it
 * is usable; lengths that are not finite and above half a unit are left out.
 *
 * Lengths without a sane common measure (longest piece over 262,144 cells: 0.04 mm for 10 m) are put
 * on a grid of that many cells, pieces rounded down, so that a choice may exceed the least by that
 * little and is never short.
 */
export function stockGrid(stockLengthsM: readonly number[]): StockGrid | null {
  const byUnits = new Map<number, number>();
  for (const lengthM of stockLengthsM) {
    const units = toUnits(lengthM);
    if (units > 0 && units < Infinity && !byUnits.has(units)) byUnits.set(units, lengthM);
  }
  const sorted = [...byUnits].sort((a, b) => b[0] - a[0]);
  const longest = sorted[0]?.[0];
  if (longest === undefined) return null;
  let unitsPerCell = sorted.reduce((divisor, [units]) => commonDivisor(divisor, units), 0);
  if (longest / unitsPerCell > MOST_CELLS_OF_A_PIECE) {
    unitsPerCell = Math.ceil(longest / MOST_CELLS_OF_A_PIECE);
  }
  const usable = sorted.filter(([units]) => units >= unitsPerCell);
  return {
    unitsPerCell,
    lengthsM: usable.map(([, lengthM]) => lengthM),
    units: usable.map(([units]) => units),
    cells: usable.map(([units]) => Math.floor(units / unitsPerCell)),
  };
}

function commonDivisor(a: number, b: number): number {
  let x = a;
  let y = b;
  while (y > 0) [x, y] = [y, x % y];
  return x;
}
