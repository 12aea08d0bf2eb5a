/** Lengths in one cell: stock lists and limits by supply. Written so that reading gives the same doubles. */
import type { LengthLimit } from '../../document/project.ts';
import { feetFromMetres, type LengthUnit, metresFromFeet } from '../../units/length.ts';
import { parseQuantity } from '../../units/parse-quantity.ts';

export interface LengthsRead {
  readonly value: readonly number[];
  readonly refusal: string | null;
  readonly note?: string;
}

/** "2,5 m" is one length; "2, 8, 15 ft" and "2,8,15 ft" are three. */
const loneComma = /^[^,;\n]*\d,\d[^,;\n]*$/u;

/** Parts at `;`, at line ends, and at commas that are not decimal marks. */
function parts(text: string): string[] {
  if (/[;\n]/u.test(text))
    return text
      .split(/[;\n]/u)
      .map((p) => p.trim())
      .filter((p) => p !== '');
  const lone = loneComma.test(text);
  const found = lone ? [text] : text.split(/,\s+|,(?!\d)|(?<!\d),/u);
  const list = found.length === 1 && !lone && text.includes(',') ? text.split(',') : found;
  return list.map((p) => p.trim()).filter((p) => p !== '');
}

const unitBehind = /[\d\s]([\p{L}'"′″.]+)\s*$/u;

/** Reads a list of lengths in metres. Bare numbers take the unit of the last one, else `unit`. */
export function readLengths(text: string, unit: string | null): LengthsRead {
  const list = parts(text.replace(/\s*(?:&|\band\b)\s*/giu, ', '));
  const shared = unitBehind.exec(list.at(-1) ?? '')?.[1] ?? unit;
  const value: number[] = [];
  for (const part of list) {
    const read = parseQuantity(part, 'length', { defaultUnit: shared, decimal: 'either' });
    if (!read.ok)
      return { value: [], refusal: `${read.reason}; a list is written 2 ft, 8 ft, 15 ft` };
    if (read.value <= 0) return { value: [], refusal: `"${part}" is no stock length` };
    value.push(read.value);
  }
  if (value.length === 1 && loneComma.test(text)) {
    const note = `"${text}" read as one length, with a decimal comma; a list is written 2 ft, 8 ft, 15 ft`;
    return { value, refusal: null, note };
  }
  return { value, refusal: null };
}

export interface LimitsRead {
  readonly value: { readonly limits: readonly LengthLimit[]; readonly maxLengthM: number | null };
  readonly refusal: string | null;
}

const bySupply = /^(?:at\s+)?(\d+(?:[.,]\d+)?(?:e[+-]?\d+)?)\s*v(?:ac)?\s*[:=–-]?\s*(.+)$/iu;
const anySupply = /^(?:any(?: voltage)?|all)\s*[:=]\s*(.+)$/iu;

/** Reads `208 V: 220 ft; 347 V: 380 ft`, a single `350 ft`, or both with `any: 350 ft`. */
export function readLengthLimits(text: string, unit: string | null): LimitsRead {
  const limits: LengthLimit[] = [];
  let maxLengthM: number | null = null;
  const list = /[;\n]/u.test(text) ? text.split(/[;\n]/u) : text.split(/,\s+/u);
  for (const part of list.map((p) => p.trim()).filter((p) => p !== '')) {
    const supply = bySupply.exec(part);
    const lengthText = supply?.[2] ?? anySupply.exec(part)?.[1] ?? part;
    const read = parseQuantity(lengthText, 'length', { defaultUnit: unit, decimal: 'either' });
    if (!read.ok) {
      const refusal = `${read.reason}; limits are written 208 V: 220 ft; 347 V: 380 ft`;
      return { value: { limits: [], maxLengthM: null }, refusal };
    }
    if (read.value < 0) {
      return { value: { limits: [], maxLengthM: null }, refusal: `"${part}" is negative` };
    }
    if (supply?.[1] === undefined) maxLengthM = read.value;
    else limits.push({ supplyV: Number(supply[1].replace(',', '.')), maxLengthM: read.value });
  }
  return { value: { limits, maxLengthM }, refusal: null };
}

/** The shortest number of feet that reads back as exactly these metres; null when none does. */
function exactFeet(lengthM: number): number | null {
  const feet = feetFromMetres(lengthM);
  for (const digits of [3, 6, 12, 15, 16, 17]) {
    const short = Number(feet.toPrecision(digits));
    if (metresFromFeet(short) === lengthM) return short;
  }
  return null;
}

/** A length in `unit`, or in metres where only they read back exactly. */
export function writeLength(lengthM: number, unit: LengthUnit): string {
  const feet = unit === 'ft' ? exactFeet(lengthM) : null;
  return feet === null ? `${lengthM} m` : `${feet} ft`;
}

export function writeLengths(lengthsM: readonly number[], unit: LengthUnit): string | null {
  return lengthsM.length === 0 ? null : lengthsM.map((m) => writeLength(m, unit)).join('; ');
}

export function writeLengthLimits(
  limits: readonly LengthLimit[],
  maxLengthM: number | null,
  unit: LengthUnit,
): string | null {
  const parts = limits.map((l) => `${l.supplyV} V: ${writeLength(l.maxLengthM, unit)}`);
  if (maxLengthM !== null) parts.push(`any: ${writeLength(maxLengthM, unit)}`);
  return parts.length === 0 ? null : parts.join('; ');
}
