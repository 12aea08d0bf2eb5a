/** A cell as a whole number: place, universe, footprint, quantity. */
import type { SourceCell } from '../../document/source-workbook.ts';
import { normaliseText } from '../../units/normalise-text.ts';
import { type CellReading, plain, refused, told } from './cell-reading.ts';
import { cleanText, isDash } from './cell-text.ts';
import { COUNTED_FROM_0 } from './read-address-cell.ts';
import { refuseOddCell } from './read-quantity-cell.ts';

export type CountColumn = 'place' | 'universe' | 'footprint' | 'quantity';

/** Words around the number that say no more than the header does. */
const dressed: Readonly<Record<CountColumn, RegExp>> = {
  place: /^(?:#|no\.?|pos\.?|place)? ?(\d+)(?:st|nd|rd|th|\.)?$/iu,
  universe: /^(?:u|uni|univ|universe|#)\.? ?[-#:]? ?(\d+)$/iu,
  footprint: /^(\d+) ?-? ?(?:ch|chs|chan|channels?|slots?)\.?$/iu,
  quantity: /^(?:x|×)? ?(\d+) ?(?:x|×|pcs?|nos?|off|ea|each|units?|fixtures?)?\.?$/iu,
};

function checked(
  value: number,
  column: CountColumn,
  note: string,
  universeBase: 0 | 1,
): CellReading<number> {
  const lowest = column === 'quantity' ? 0 : 1;
  if (value < 0) return refused('a count cannot be negative');
  if (column === 'universe' && universeBase === 0) {
    const all = note === '' ? [COUNTED_FROM_0] : [note, COUNTED_FROM_0];
    return told(value + 1, 'likely', all);
  }
  if (value < lowest && column === 'universe') {
    return refused('universes count from 1 here; say that the file counts from 0 if it does');
  }
  if (value < lowest) return refused(`0 is no ${column}; it counts from 1`);
  if (column === 'footprint' && value > 512) {
    const over = 'more than the 512 slots of a universe; used as it stands';
    return told(value, 'sure', note === '' ? over : `${note}; ${over}`);
  }
  return note === '' ? plain(value) : told(value, 'sure', note);
}

/** The words of a count around its number, which may be 0; null: not one whole number. */
export function plainCount(cell: SourceCell, column: CountColumn): number | null {
  if (cell.kind === 'number' && typeof cell.value === 'number') {
    return Number.isSafeInteger(cell.value) ? cell.value : null;
  }
  const text = cleanText(cell.text);
  if (/^\d{1,9}$/u.test(text)) return Number(text);
  const found = cell.kind === 'text' ? dressed[column].exec(normaliseText(text))?.[1] : undefined;
  return found === undefined || found.length > 9 ? null : Number(found);
}

/**
 * Reads a whole number. Plain when it stands alone or with its own word (`9 ch`, `14 pcs`). A universe
 * of a file that counts them from 0 is one higher, told.
 */
export function readCountCell(
  cell: SourceCell,
  column: CountColumn,
  universeBase: 0 | 1 = 1,
): CellReading<number> {
  const odd = refuseOddCell(cell);
  if (odd !== null) return odd;
  if (typeof cell.value === 'number') {
    if (!Number.isSafeInteger(cell.value)) return refused('not a whole number');
    return checked(cell.value, column, '', universeBase);
  }
  const text = cleanText(cell.text);
  if (/^\d{1,9}$/u.test(text)) return checked(Number(text), column, '', universeBase);
  if (isDash(text)) return told<number>(null, 'sure', 'a dash: nothing stated');
  const normal = normaliseText(text);
  const found = dressed[column].exec(normal)?.[1];
  if (found !== undefined && found.length <= 9) {
    const needsTelling = column === 'universe' || column === 'place';
    const note = needsTelling ? `the number in "${text}"` : '';
    return checked(Number(found), column, note, universeBase);
  }
  if (/^\d{1,9}[.,]0+$/u.test(normal))
    return checked(Number.parseInt(normal, 10), column, 'written with decimals', universeBase);
  if (/^-\d+$/u.test(normal)) return refused('a count cannot be negative');
  return refused('not one whole number');
}
