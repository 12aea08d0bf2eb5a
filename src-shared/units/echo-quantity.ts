/** What was understood from an entry, in the user's unit and in the one it is held in. */
import { formatTrimmed } from './format-quantity.ts';
import { matchUnit } from './match-unit.ts';
import { fromBaseUnit, type QuantityKind, quantityKinds, unitNamed } from './quantity.ts';

/** Four decimals; four significant digits below 0.001, so that a small value is not shown as 0. */
function shownNumber(value: number): string {
  if (value !== 0 && Math.abs(value) < 0.001) return String(Number(value.toPrecision(4)));
  return formatTrimmed(value, 4);
}

/**
 * `15 ft = 4.572 m`; `3.81 m = 12.5 ft`; `0.75 mA`.
 *
 * @param value in the kind's base unit
 * @param unitName unit found in the text; `null`: the default unit
 */
export function echoQuantity(
  value: number,
  unitName: string | null,
  kind: QuantityKind,
  options: { readonly defaultUnit: string | null },
): string {
  const base = quantityKinds[kind].baseUnit;
  if (base === null) return shownNumber(value);
  const typed = unitName ?? matchUnit(options.defaultUnit ?? '', 0)?.unit.unit ?? base;
  const inUnit = (name: string): string => {
    const unit = unitNamed(name);
    return `${shownNumber(unit === null ? value : fromBaseUnit(value, unit, kind))} ${name}`;
  };
  // Volt-amperes are not watts: one number, one name.
  if (typed === 'VA' || (typed === base && kind !== 'length')) return inUnit(typed);
  if (typed === 'kVA') return `${inUnit('kVA')} = ${inUnit('VA')}`;
  return `${inUnit(typed)} = ${inUnit(typed === base ? 'ft' : base)}`;
}
