/** A cell as a DMX start address: `101`, `2/101`, `2.101`, or absolute slots past 512. */
import type { Confidence } from '../../document/project.ts';
import type { SourceCell } from '../../document/source-workbook.ts';
import { normaliseText } from '../../units/normalise-text.ts';
import { cleanText, isDash } from './cell-text.ts';
import { refuseOddCell } from './read-quantity-cell.ts';
import { type HyphenHabit, slotRange } from './slot-range.ts';

const SLOTS = 512;
/** `1-4` with no more slots may be those of one fixture, not universe 1. Our own figure, no source. */
const MOST_IN_RANGE = 64;

export interface AddressReading {
  /** Universe stated with the address, counted from 1; null when it states none. */
  readonly universe: number | null;
  readonly address: number | null;
  readonly confidence: Confidence | null;
  readonly note: string;
}

export interface AddressHabit {
  /** The column counts slots through all universes: it passes 512 and no universe is stated anywhere. */
  readonly absolute: boolean;
  /** The number its first universe has in this file. */
  readonly universeBase: 0 | 1;
  /** Other cells of the column name a universe before a point: a number names it too, whatever zeros it lost. */
  readonly points: boolean;
  readonly hyphens: HyphenHabit;
}

const refuse = (note: string): AddressReading => ({
  universe: null,
  address: null,
  confidence: 'refused',
  note,
});

const pairForm =
  /^(?:u(?:ni(?:v(?:erse)?)?)?\.? ?)?(\d{1,5}) ?([/.:-]) ?(?:(?:ch|addr|a|@)\.? ?)?(\d{1,3})$/iu;
const AMBIGUOUS =
  'a number with a point is no address: 2.1 and 2.10 are the same number; write 2/1 or 2/10 as text';

/** How a file that counts universes from 0 is told. */
export const COUNTED_FROM_0 = 'universes counted from 0 in this file';

function pair(
  written: number,
  address: number,
  mark: string,
  raw: string,
  universeBase: 0 | 1,
): AddressReading {
  const universe = universeBase === 0 ? written + 1 : written;
  if (universe < 1) {
    return refuse('universes count from 1 here; say that the file counts from 0 if it does');
  }
  const said = `"${raw}" read as universe ${universe}, address ${address}`;
  const from = universeBase === 0 ? `${said}; ${COUNTED_FROM_0}` : said;
  if (address < 1 || address > SLOTS) {
    const note = `${from}; that is no slot of a universe, 1 to ${SLOTS}; used as it stands`;
    return { universe, address, confidence: 'guess', note };
  }
  // A point with fewer than three digits may once have been a number that lost a zero.
  const short = mark === '.' && !/\.\d{3}$/u.test(raw);
  const confidence: Confidence = short || universeBase === 0 ? 'likely' : 'sure';
  return { universe, address, confidence, note: from };
}

function whole(value: number, absolute: boolean): AddressReading {
  if (value < 1) {
    const note = 'under slot 1, the first of a universe; used as it stands';
    return { universe: null, address: value, confidence: 'sure', note };
  }
  if (absolute) {
    const universe = Math.floor((value - 1) / SLOTS) + 1;
    const address = ((value - 1) % SLOTS) + 1;
    const note = `counted through all universes: universe ${universe}, address ${address}`;
    return { universe, address, confidence: 'guess', note };
  }
  if (value > SLOTS) {
    const note = 'past slot 512 of its universe; used as it stands';
    return { universe: null, address: value, confidence: 'sure', note };
  }
  return { universe: null, address: value, confidence: null, note: '' };
}

/** `1-4` or `1 to 4` as the slots taken: the first is the start. */
function ofRange(
  text: string,
  { first, last }: { first: number; last: number },
  absolute: boolean,
) {
  const read = whole(first, absolute);
  const note = `"${text}" read as slots ${first} to ${last}: starts at ${first}`;
  const confidence: Confidence = read.confidence === 'guess' ? 'guess' : 'likely';
  return { ...read, confidence, note: read.note === '' ? note : `${note}; ${read.note}` };
}

/** Universe, mark and address of a cell written as a pair; null: it is none. */
function pairOf(
  cell: SourceCell,
  hyphens: HyphenHabit,
): { universe: number; mark: string; address: number } | null {
  const isNumber = typeof cell.value === 'number';
  if (isNumber && Number.isSafeInteger(cell.value)) return null;
  const text = normaliseText(cleanText(cell.text));
  if (hyphens === 'range' && slotRange(text) !== null) return null;
  const found = isNumber ? /^(\d{1,5})(\.)(\d{3})$/u.exec(text) : pairForm.exec(text);
  if (found?.[1] === undefined || found[2] === undefined) return null;
  return { universe: Number(found[1]), mark: found[2], address: Number(found[3]) };
}

/** The universe a cell names beside its address, as written; null: it names none. */
export function universeInAddress(cell: SourceCell, hyphens: HyphenHabit): number | null {
  return refuseOddCell(cell) === null ? (pairOf(cell, hyphens)?.universe ?? null) : null;
}

/**
 * Reads a start address; a whole number outside 1 to 512 stands as it is, told. A number with
 * decimals is refused unless its format shows three of them: 2.1 is not 2.10.
 */
export function readAddressCell(cell: SourceCell, habit: AddressHabit): AddressReading {
  const odd = refuseOddCell(cell);
  if (odd !== null) return { universe: null, address: null, confidence: 'refused', note: odd.note };
  const text = cleanText(cell.text);
  const pairRead = pairOf(cell, habit.hyphens);
  if (typeof cell.value === 'number') {
    if (Number.isSafeInteger(cell.value)) return whole(cell.value, habit.absolute);
    if (pairRead === null) {
      const universe = Math.floor(cell.value) + (habit.universeBase === 0 ? 1 : 0);
      return { ...refuse(AMBIGUOUS), universe: habit.points && universe >= 1 ? universe : null };
    }
    const { universe, mark, address } = pairRead;
    const read = pair(universe, address, mark, text, habit.universeBase);
    return read.address === null ? read : { ...read, confidence: 'guess' };
  }
  if (/^\d{1,9}$/u.test(text)) return whole(Number(text), habit.absolute);
  if (isDash(text)) {
    return { universe: null, address: null, confidence: 'sure', note: 'a dash: nothing stated' };
  }
  const normal = normaliseText(text);
  if (/^-\d{1,9}$/u.test(normal)) return whole(Number(normal), habit.absolute);
  const range = slotRange(normal);
  if (pairRead !== null) {
    const { universe, mark, address } = pairRead;
    const read = pair(universe, address, mark, normal, habit.universeBase);
    if (habit.hyphens !== null || range === null || range.last - range.first >= MOST_IN_RANGE)
      return read;
    const note = `${read.note}; it may be slots ${range.first} to ${range.last} instead`;
    return { ...read, confidence: 'guess', note };
  }
  if (range !== null && (range.word || habit.hyphens === 'range'))
    return ofRange(normal, range, habit.absolute);
  const alone = /^(?:ch|addr|address|dmx|start|#|@)\.? ?(\d{1,9})$/iu.exec(normal)?.[1];
  if (alone !== undefined) {
    const read = whole(Number(alone), habit.absolute);
    return read.confidence === null
      ? { ...read, confidence: 'sure', note: `the number in "${text}"` }
      : read;
  }
  if (/^(\d{1,3}) ?(?:-|to) ?(\d{1,3})$/iu.test(normal))
    return refuse('a range, not one start address');
  return refuse('not a start address; write 101, or 2/101 with its universe');
}
