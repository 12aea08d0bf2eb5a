/** A cell as a DMX start address: `101`, `2/101`, `2.101`, or absolute slots past 512. */
import type { Confidence } from '../../document/project.ts';
import type { SourceCell } from '../../document/source-workbook.ts';
import { normaliseText } from '../../units/normalise-text.ts';
import { cleanText, isDash } from './cell-text.ts';
import { refuseOddCell } from './read-quantity-cell.ts';

const SLOTS = 512;

export interface AddressReading {
  /** Universe stated with the address; null when it states none. */
  readonly universe: number | null;
  readonly address: number | null;
  readonly confidence: Confidence | null;
  readonly note: string;
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

function pair(universe: number, address: number, mark: string, raw: string): AddressReading {
  if (universe < 1) {
    return refuse('universes count from 1 here; a file that counts from 0 has to be renumbered');
  }
  if (address < 1 || address > SLOTS)
    return refuse(`${address} is no slot of a universe, 1 to 512`);
  const note = `"${raw}" read as universe ${universe}, address ${address}`;
  // A point with fewer than three digits may once have been a number that lost a zero.
  const confidence: Confidence = mark === '.' && !/\.\d{3}$/u.test(raw) ? 'likely' : 'sure';
  return { universe, address, confidence, note };
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

/**
 * Reads a start address; a whole number outside 1 to 512 stands as it is, told. `absolute`: the column counts slots through all universes (it passes 512
 * and no universe is stated anywhere). A number with decimals is refused: 2.1 is not 2.10.
 */
export function readAddressCell(cell: SourceCell, absolute: boolean): AddressReading {
  const odd = refuseOddCell(cell);
  if (odd !== null) return { universe: null, address: null, confidence: 'refused', note: odd.note };
  if (typeof cell.value === 'number') {
    if (Number.isSafeInteger(cell.value)) return whole(cell.value, absolute);
    const shown = /^(\d{1,5})\.(\d{3})$/u.exec(cell.text.trim());
    if (shown === null) return refuse(AMBIGUOUS);
    const read = pair(Number(shown[1]), Number(shown[2]), '.', cell.text.trim());
    return read.address === null ? read : { ...read, confidence: 'guess' };
  }
  const text = cleanText(cell.text);
  if (/^\d{1,9}$/u.test(text)) return whole(Number(text), absolute);
  if (isDash(text)) {
    return { universe: null, address: null, confidence: 'sure', note: 'a dash: nothing stated' };
  }
  const normal = normaliseText(text);
  if (/^-\d{1,9}$/u.test(normal)) return whole(Number(normal), absolute);
  const found = pairForm.exec(normal);
  if (found?.[1] !== undefined && found[2] !== undefined) {
    return pair(Number(found[1]), Number(found[3]), found[2], normal);
  }
  const alone = /^(?:ch|addr|address|dmx|start|#|@)\.? ?(\d{1,9})$/iu.exec(normal)?.[1];
  if (alone !== undefined) {
    const read = whole(Number(alone), absolute);
    return read.confidence === null
      ? { ...read, confidence: 'sure', note: `the number in "${text}"` }
      : read;
  }
  if (/^(\d{1,3}) ?(?:-|to) ?(\d{1,3})$/iu.test(normal))
    return refuse('a range, not one start address');
  return refuse('not a start address; write 101, or 2/101 with its universe');
}
