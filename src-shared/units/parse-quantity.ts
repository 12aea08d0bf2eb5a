/** A cell's or an option's text as a quantity in SI units. */
import { matchUnit } from './match-unit.ts';
import { LONGEST_QUANTITY_TEXT, normaliseText } from './normalise-text.ts';
import { stripPrefixes, stripSuffixes } from './qualifier-words.ts';
import {
  GREATEST_QUANTITY,
  type QuantityKind,
  quantityKinds,
  toBaseUnit,
  type UnitOfQuantity,
} from './quantity.ts';
import type { DecimalMark } from './read-number.ts';
import { readTerm } from './read-term.ts';
import {
  quoted,
  type Refusal,
  refusal,
  refuseBare,
  refuseText,
  refuseUnit,
} from './refuse-quantity.ts';

export interface QuantityOptions {
  /** Unit of a number written without one (`ft`, `m`, `mm`, `W`, `ohm/km` …); `null` refuses it. */
  readonly defaultUnit: string | null;
  /** Decimal mark of the sheet, or `either` when it is not known. */
  readonly decimal: DecimalMark;
}

export interface ReadQuantity {
  readonly ok: true;
  /** In the kind's base unit: m, W, A, V, ohm, ohm/km, %, mA, °C, or a plain number. Finite. */
  readonly value: number;
  /** Unit found in the text, normalised (`ft`, `in`, `mm`, `W`, `VA` …); `null` when it has none. */
  readonly unit: string | null;
  /** What was decided in reading, for the import report. Empty when nothing was. */
  readonly notes: readonly string[];
}

export type ParsedQuantity = ReadQuantity | { readonly ok: false; readonly reason: string };

/** The options' default unit, when it is one of this kind. */
export function defaultUnitOf(kind: QuantityKind, options: QuantityOptions): UnitOfQuantity | null {
  if (options.defaultUnit === null) return null;
  const name = normaliseText(options.defaultUnit);
  const found = matchUnit(name, 0);
  if (found === null || found.end !== name.length) return null;
  return found.unit.dimension === quantityKinds[kind].dimension ? found.unit : null;
}

/** As `parseQuantity`; a refusal says whether the text could still be a sum. */
export function readQuantity(
  text: string,
  kind: QuantityKind,
  options: QuantityOptions,
): ReadQuantity | Refusal {
  if (text.length > LONGEST_QUANTITY_TEXT) {
    return refusal(`the text is too long for ${quantityKinds[kind].title}`, true);
  }
  const whole = normaliseText(text);
  const before = stripPrefixes(whole, kind);
  const sign = /^[+-] ?(?=[\d.])/u.exec(before.rest)?.[0] ?? '';
  const body = before.rest.slice(sign.length);
  const fallback = defaultUnitOf(kind, options);
  const term = readTerm(body, 0, {
    decimal: options.decimal,
    bareLoneGroup: kind === 'number' ? null : (fallback?.loneGroup ?? 'thousands'),
    bareFraction: kind === 'number',
  });
  if (term === null) return refuseText(whole, kind);
  if (!term.ok) {
    const known = refuseText(whole, kind);
    if (known.settled && !known.reason.includes('is not one number')) return known;
    const write = term.reason.includes('write') ? '' : `; write ${quantityKinds[kind].example}`;
    return refusal(`${term.reason}${write}`, true);
  }
  const after = stripSuffixes(body.slice(term.end), kind);
  if (after.rest !== '') return refuseText(whole, kind, after.rest);

  const notes = [...before.notes, ...term.notes, ...after.notes];
  if (/dc$/u.test(term.spelling)) notes.push('direct current');
  let unit = term.unit;
  if (unit !== null && unit.dimension !== quantityKinds[kind].dimension) {
    return refuseUnit(whole, unit, kind);
  }
  const implied = after.impliedUnit === null ? null : matchUnit(after.impliedUnit, 0);
  if (unit === null && implied !== null) unit = implied.unit;
  const used = unit ?? fallback;
  if (used === null && kind !== 'number') return refuseBare(whole, kind);
  if (unit === null && used !== null) notes.push(`no unit: read as ${used.unit}`);
  const signed = sign.startsWith('-') ? -term.value : term.value;
  const value = used === null ? signed : toBaseUnit(signed, used, kind);
  if (!(Math.abs(value) <= GREATEST_QUANTITY)) {
    return refusal(
      `${quoted(whole)} is too large a number; write ${quantityKinds[kind].example}`,
      true,
    );
  }
  return { ok: true, value: value + 0, unit: term.unitName ?? unit?.unit ?? null, notes };
}

/**
 * Reads one quantity. Never throws; anything that is not one quantity of this kind is refused with
 * a reason that says what to write. A sign is kept: the caller refuses what must not be negative.
 *
 * @example parseQuantity("12'-6\"", 'length', { defaultUnit: null, decimal: 'dot' }) // 3.81, unit ft
 */
export function parseQuantity(
  text: string,
  kind: QuantityKind,
  options: QuantityOptions,
): ParsedQuantity {
  const read = readQuantity(text, kind, options);
  return read.ok ? read : { ok: false, reason: read.reason };
}
