/** Lists an engineer types into one cell: modes, breaker maxima, stock lengths, length limits. */
import type { BreakerMaximum, LengthLimit, Mode } from '../../src-shared/document/project.ts';
import {
  formatLength,
  formatLengthNumber,
  formatTrimmed,
} from '../../src-shared/units/format-quantity.ts';
import type { LengthUnit } from '../../src-shared/units/length.ts';
import { parsePlainEntry } from '../../src-shared/units/parse-sum.ts';
import type { QuantityKind } from '../../src-shared/units/quantity.ts';

export type ReadList<T> =
  | { readonly ok: true; readonly value: readonly T[] }
  | { readonly ok: false; readonly reason: string };

const refuse = (reason: string) => ({ ok: false, reason }) as const;

function quantity(text: string, kind: QuantityKind, defaultUnit: string | null) {
  const read = parsePlainEntry(text.trim(), kind, { defaultUnit, decimal: 'dot' });
  return read ?? refuse(`"${text.trim()}" is not one quantity`);
}

function items<T>(text: string, one: (part: string) => T | string): ReadList<T> {
  const value: T[] = [];
  for (const part of text.split(/[,;]/u)) {
    if (part.trim() === '') continue;
    const read = one(part.trim());
    if (typeof read === 'string') return refuse(read);
    value.push(read);
  }
  return { ok: true, value };
}

export function showModes(modes: readonly Mode[]): string {
  return modes.map(({ name, footprint }) => `${name} = ${footprint}`).join(', ');
}

/** `5ch = 5, 9ch = 9`. */
export function readModes(text: string): ReadList<Mode> {
  const read = items<Mode>(text, (part) => {
    const pair = /^(.+?)\s*[=:]\s*(\d{1,3})$/u.exec(part);
    const footprint = Number(pair?.[2]);
    if (pair?.[1] === undefined || footprint < 1 || footprint > 512) {
      return `"${part}" is not a mode with its slots; write 5ch = 5, 9ch = 9`;
    }
    return { name: pair[1].trim(), footprint };
  });
  if (!read.ok) return read;
  const names = new Set(read.value.map(({ name }) => name.toLowerCase()));
  return names.size === read.value.length ? read : refuse('a mode stands twice');
}

export function showMaxima(maxima: readonly BreakerMaximum[]): string {
  return maxima.map(({ fixtures, breakerA }) => `${fixtures} at ${breakerA} A`).join(', ');
}

/** `40 at 20 A`. */
export function readMaxima(text: string): ReadList<BreakerMaximum> {
  return items<BreakerMaximum>(text, (part) => {
    const pair = /^(\d+)\s*(?:at|@|per|\/)\s*(.+)$/iu.exec(part);
    const breaker = pair?.[2] === undefined ? null : quantity(pair[2], 'current', 'A');
    if (breaker?.ok !== true || breaker.value <= 0) {
      return `"${part}" is not a count at a breaker; write 40 at 20 A`;
    }
    return { fixtures: Number(pair?.[1]), breakerA: breaker.value };
  });
}

export function showLengths(lengthsM: readonly number[], unit: LengthUnit): string {
  if (lengthsM.length === 0) return '';
  return `${lengthsM.map((lengthM) => formatLengthNumber(lengthM, unit, 4)).join(', ')} ${unit}`;
}

/** `2, 8, 15, 30 ft`: a unit behind the last counts for all that have none. */
export function readLengths(text: string, unit: LengthUnit): ReadList<number> {
  const trailing = /\d\s*(ft|m|mm|cm|in|feet|metres?|meters?)\.?\s*$/iu.exec(text)?.[1] ?? unit;
  const read = items<number>(text, (part) => {
    const length = quantity(part, 'length', trailing);
    if (!length.ok) return length.reason;
    return length.value > 0 ? length.value : `"${part}" is not a stock length`;
  });
  return read.ok ? { ok: true, value: [...new Set(read.value)].sort((a, b) => a - b) } : read;
}

export function showLimits(limits: readonly LengthLimit[], unit: LengthUnit): string {
  return limits
    .map(
      ({ supplyV, maxLengthM }) =>
        `${formatLength(maxLengthM, unit, 4)} at ${formatTrimmed(supplyV, 1)} V`,
    )
    .join(', ');
}

/** `220 ft at 208 V, 380 ft at 347 V`. */
export function readLimits(text: string, unit: LengthUnit): ReadList<LengthLimit> {
  return items<LengthLimit>(text, (part) => {
    const pair = /^(.+?)\s*(?:at|@)\s*(.+)$/iu.exec(part);
    const length = pair?.[1] === undefined ? null : quantity(pair[1], 'length', unit);
    const volts = pair?.[2] === undefined ? null : quantity(pair[2], 'voltage', 'V');
    if (length?.ok !== true || volts?.ok !== true || length.value <= 0 || volts.value <= 0) {
      return `"${part}" is not a length at a voltage; write 220 ft at 208 V`;
    }
    return { supplyV: volts.value, maxLengthM: length.value };
  });
}
