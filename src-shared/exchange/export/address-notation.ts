/** How a sheet writes start addresses, and addresses written that way. */
import type { CellContent } from './export-table.ts';

const SLOTS = 512;

/** `2.101`, `2/101`; counted through all universes; or the slot alone, its universe elsewhere or nowhere. */
export type AddressNotation =
  | { readonly kind: 'slot' }
  | { readonly kind: 'pair'; readonly mark: string; readonly digits: number }
  | { readonly kind: 'absolute' };

export interface SlotAddress {
  /** From 1; null: not stated. */
  readonly universe: number | null;
  readonly address: number | null;
}

const pairForm = /^(\d{1,5})([/.:-])(\d{1,3})$/u;

/**
 * How most cells of an address column are written. Addresses past 512 where no column states the
 * universe are counted through all universes, as the import reads them.
 */
export function notationOf(raws: readonly CellContent[], hasUniverse: boolean): AddressNotation {
  const marks = new Map<string, number>();
  let pairs = 0;
  let padded = 0;
  let shortest = 3;
  let past = false;
  for (const raw of raws) {
    const text = raw === null ? '' : String(raw).trim();
    const found = typeof raw === 'string' ? pairForm.exec(text) : null;
    if (found?.[2] !== undefined && found[3] !== undefined) {
      pairs += 1;
      marks.set(found[2], (marks.get(found[2]) ?? 0) + 1);
      shortest = Math.min(shortest, found[3].length);
      if (found[3].startsWith('0')) padded += 1;
    } else if (/^\d{3,6}$/u.test(text) && Number(text) > SLOTS) past = true;
  }
  if (pairs > 0) {
    const [mark = '/'] = [...marks].sort(([, a], [, b]) => b - a)[0] ?? [];
    return { kind: 'pair', mark, digits: padded > 0 ? shortest : 1 };
  }
  return past && !hasUniverse ? { kind: 'absolute' } : { kind: 'slot' };
}

/** What a raw cell says in a notation; `base` is the number of the first universe. Null: not plain. */
export function addressSaid(
  raw: CellContent,
  notation: AddressNotation,
  base: 0 | 1,
): SlotAddress | null {
  const text = raw === null ? '' : String(raw).trim();
  const pair = pairForm.exec(text);
  if (typeof raw === 'string' && pair !== null) {
    return { universe: Number(pair[1]) + 1 - base, address: Number(pair[3]) };
  }
  if (!/^\d{1,9}$/u.test(text)) return null;
  const value = Number(text);
  if (notation.kind !== 'absolute' || value < 1) return { universe: null, address: value };
  return { universe: Math.floor((value - 1) / SLOTS) + 1, address: ((value - 1) % SLOTS) + 1 };
}

/** An address in the sheet's notation; undefined where that notation cannot say it. */
export function writtenAddress(
  { universe, address }: SlotAddress,
  notation: AddressNotation,
  base: 0 | 1,
): CellContent | undefined {
  if (address === null) return null;
  if (notation.kind === 'slot') return address;
  const isSlot = Number.isInteger(address) && address >= 1 && address <= SLOTS;
  if (notation.kind === 'absolute') {
    return universe === null || !isSlot ? undefined : (universe - 1) * SLOTS + address;
  }
  if (universe === null || !isSlot) return address;
  // A point needs all three digits, or 2.1 and 2.10 would be one number in other hands.
  const digits = notation.mark === '.' && notation.digits > 1 ? 3 : notation.digits;
  return `${universe - 1 + base}${notation.mark}${String(address).padStart(digits, '0')}`;
}
