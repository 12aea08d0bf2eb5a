/**
 * Numbers and quantities as text, for grid, messages and export. No locale: a dot, no thousands
 * mark. `null` and what is not finite (unknown) become the empty text; zero never has a sign.
 *
 * Rounding: the value is taken at 12 significant digits, which drops what binary fractions left
 * behind, then rounded half away from zero in decimal. So 1.005 becomes 1.01, and a length typed in
 * feet prints as it was typed.
 */
import { type LengthUnit, lengthInUnit } from './length.ts';

const MOST_DECIMALS = 10;

function shift(value: number, by: number): number {
  const [mantissa = '0', exponent = '0'] = String(value).split('e');
  return Number(`${mantissa}e${Number(exponent) + by}`);
}

/** `value` rounded to `decimals` (0 to 10) by the rule above; numbers from 1e15 stay as they are. */
export function roundDecimal(value: number, decimals: number): number {
  if (!Number.isFinite(value) || Math.abs(value) >= 1e15) return value;
  const kept = Math.min(Math.max(Math.trunc(decimals), 0), MOST_DECIMALS);
  const size = Number(Math.abs(value).toPrecision(12));
  const scaled = shift(size, kept);
  const rounded = scaled >= 2 ** 53 ? size : shift(Math.round(scaled), -kept);
  return rounded === 0 ? 0 : Math.sign(value) * rounded;
}

/** With exactly `decimals` places: `formatNumber(7.5, 2)` is `7.50`. */
export function formatNumber(value: number | null, decimals: number): string {
  if (value === null || !Number.isFinite(value)) return '';
  const kept = Math.min(Math.max(Math.trunc(decimals), 0), MOST_DECIMALS);
  return roundDecimal(value, kept).toFixed(kept);
}

/** With at most `decimals` places, trailing zeros removed: `formatTrimmed(7.5, 2)` is `7.5`. */
export function formatTrimmed(value: number | null, decimals: number): string {
  const text = formatNumber(value, decimals);
  return text.includes('.') && !text.includes('e') ? text.replace(/\.?0+$/u, '') : text;
}

const withUnit = (text: string, unit: string): string => (text === '' ? '' : `${text} ${unit}`);

/** Metres in the project's unit, without the unit: `12.5`. At most two decimals unless told. */
export function formatLengthNumber(lengthM: number | null, unit: LengthUnit, decimals = 2): string {
  return formatTrimmed(lengthInUnit(lengthM, unit), decimals);
}

/** Metres as text in `unit`: `12 ft`, `12.5 ft`, `3.66 m`. */
export function formatLength(lengthM: number | null, unit: LengthUnit, decimals = 2): string {
  return withUnit(formatLengthNumber(lengthM, unit, decimals), unit);
}

/** `207.2 V` */
export function formatVolts(voltageV: number | null, decimals = 1): string {
  return withUnit(formatNumber(voltageV, decimals), 'V');
}

/** `10.5 A` */
export function formatAmps(currentA: number | null, decimals = 1): string {
  return withUnit(formatNumber(currentA, decimals), 'A');
}

/** `0.75 mA` */
export function formatMilliamps(currentMa: number | null, decimals = 2): string {
  return withUnit(formatNumber(currentMa, decimals), 'mA');
}

/** `87 W`, `87.5 W`: at most `decimals` places. */
export function formatWatts(powerW: number | null, decimals = 1): string {
  return withUnit(formatTrimmed(powerW, decimals), 'W');
}

/** `3.2 %`, with the space of SI. */
export function formatPercent(percent: number | null, decimals = 1): string {
  return withUnit(formatNumber(percent, decimals), '%');
}
