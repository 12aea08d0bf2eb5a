/** One number with its unit, or feet and inches, at a place in a text. */
import { matchUnit } from './match-unit.ts';
import { type LoneGroup, type UnitOfQuantity, unitNamed } from './quantity.ts';
import { type DecimalMark, numberSource, readNumber } from './read-number.ts';

export interface TermOptions {
  readonly decimal: DecimalMark;
  /** How `1,234` without a unit is read when `decimal` is `either`; `null` refuses it. */
  readonly bareLoneGroup: LoneGroup | null;
  /** Whether `1/8` without a unit is a fraction. */
  readonly bareFraction: boolean;
}

export type Term =
  | {
      readonly ok: true;
      /** In `unit`; unsigned. */
      readonly value: number;
      readonly unit: UnitOfQuantity | null;
      /** Name of the unit to report; feet and inches are summed in inches and reported as `ft`. */
      readonly unitName: string | null;
      readonly spelling: string;
      readonly end: number;
      readonly notes: readonly string[];
    }
  | { readonly ok: false; readonly reason: string };

interface Amount {
  readonly value: number;
  readonly end: number;
  readonly notes: readonly string[];
  readonly form: 'number' | 'fraction' | 'mixed';
}

interface Inches {
  readonly value: number;
  readonly unit: UnitOfQuantity;
  readonly end: number;
  readonly notes: readonly string[];
}

const inch = unitNamed('in');

const numberAt = new RegExp(numberSource, 'uy');
const fractionAt = /(?:(\d+)([ -]))?(\d{1,3})\/(\d{1,2})(?![\d/.,])/uy;
const denominators = new Set([2, 3, 4, 6, 8, 12, 16, 32, 64]);

function readFraction(text: string, at: number): Amount | null {
  fractionAt.lastIndex = at;
  const found = fractionAt.exec(text);
  if (found === null) return null;
  const over = Number(found[3]);
  const under = Number(found[4]);
  if (!denominators.has(under) || over >= under || over === 0) return null;
  const whole = found[1] === undefined ? 0 : Number(found[1]);
  if (!Number.isFinite(whole)) return null;
  return {
    value: whole + over / under,
    end: at + found[0].length,
    notes: [],
    // "5-1/2" needs its unit: alone it could be anything.
    form: found[1] === undefined || found[2] === '-' ? 'fraction' : 'mixed',
  };
}

function readAmount(
  text: string,
  at: number,
  decimal: DecimalMark,
  loneGroup: LoneGroup | null,
): Amount | { readonly reason: string } | null {
  numberAt.lastIndex = at;
  const found = numberAt.exec(text);
  if (found === null) return null;
  const read = readNumber(found[0], decimal, loneGroup);
  if (!read.ok) return { reason: read.reason };
  return {
    value: read.value,
    end: at + found[0].length,
    notes: read.notes,
    form: 'number',
  };
}

const skipBlank = (text: string, at: number): number => (text[at] === ' ' ? at + 1 : at);

/** Inches behind feet: `-6"`, ` 6 in`, `6` (bare). `null`: the feet stand alone. */
function readInches(
  text: string,
  at: number,
  primes: boolean,
  options: TermOptions,
): Inches | { reason: string } | null {
  if (inch === null) return null;
  const gap = /^ ?(-?) ?/u.exec(text.slice(at, at + 3))?.[0] ?? '';
  const start = at + gap.length;
  const spacedHyphen = gap.includes('-') && gap.length > 1;
  // With words a spaced hyphen is a subtraction or unclear; with primes it is how drawings write it.
  if (spacedHyphen && !primes) return null;
  const fraction = readFraction(text, start);
  // "12'-6-1/2"" and "12' 6 1/2"" both reach here as one mixed number.
  const amount = fraction ?? readAmount(text, start, options.decimal, 'thousands');
  if (amount === null || 'reason' in amount) return null;
  const sign = matchUnit(text, skipBlank(text, amount.end));
  const notes = [...amount.notes];
  let end = amount.end;
  if (sign !== null) {
    if (sign.unit.unit !== 'in') return null;
    end = sign.end;
  } else {
    if (spacedHyphen || amount.form === 'fraction' || /^[\d.,/'"]/u.test(text.slice(end))) {
      return null;
    }
    // Three digits would be a thousands group (1'000), not inches.
    if (amount.form === 'number' && !/^\d{1,2}$/u.test(text.slice(start, end))) return null;
    notes.push(`${text.slice(start, end)} behind the feet read as inches`);
  }
  if (amount.value >= 12) {
    return {
      reason: `"${text.slice(start, end)}" behind feet is 12 inches or more; write feet and inches below 12, or one unit`,
    };
  }
  if (spacedHyphen) notes.push('the hyphen joins feet and inches; it was not read as minus');
  return { value: amount.value, unit: inch, end, notes };
}

/**
 * Reads the unsigned quantity at `at`: `12.5 ft`, `12'-6 1/2"`, `5 1/2 in`, `1.234,5 m`, `87W`, `40`.
 * `null` when no number stands there. The text has gone through `normaliseText`.
 */
export function readTerm(text: string, at: number, options: TermOptions): Term | null {
  const fraction = readFraction(text, at);
  if (fraction !== null) {
    const unit = matchUnit(text, skipBlank(text, fraction.end));
    if (unit?.unit.dimension === 'length') {
      return withInches(text, fraction, unit.unit, unit.spelling, unit.end, options);
    }
    if (unit === null && (options.bareFraction || fraction.form === 'mixed')) {
      return {
        ok: true,
        value: fraction.value,
        unit: null,
        unitName: null,
        spelling: '',
        end: fraction.end,
        notes: [],
      };
    }
  }
  numberAt.lastIndex = at;
  const found = numberAt.exec(text);
  if (found === null) return null;
  const unit = matchUnit(text, skipBlank(text, at + found[0].length));
  const loneGroup = unit === null ? options.bareLoneGroup : unit.unit.loneGroup;
  const amount = readAmount(text, at, options.decimal, loneGroup);
  if (amount === null) return null;
  if ('reason' in amount) return { ok: false, reason: amount.reason };
  if (unit === null) {
    return {
      ok: true,
      value: amount.value,
      unit: null,
      unitName: null,
      spelling: '',
      end: amount.end,
      notes: amount.notes,
    };
  }
  return withInches(text, amount, unit.unit, unit.spelling, unit.end, options);
}

function withInches(
  text: string,
  amount: Amount,
  unit: UnitOfQuantity,
  spelling: string,
  end: number,
  options: TermOptions,
): Term {
  const alone: Term = {
    ok: true,
    value: amount.value,
    unit,
    unitName: unit.unit,
    spelling,
    end,
    notes: amount.notes,
  };
  if (unit.unit !== 'ft') return alone;
  const inches = readInches(text, end, spelling === "'", options);
  if (inches === null) return alone;
  if ('reason' in inches) return { ok: false, reason: inches.reason };
  if (!Number.isInteger(amount.value)) {
    return {
      ok: false,
      reason: `"${text.slice(0, inches.end)}" has a fraction of a foot beside inches; write one of them`,
    };
  }
  return {
    ok: true,
    value: amount.value * 12 + inches.value,
    unit: inches.unit,
    unitName: unit.unit,
    spelling,
    end: inches.end,
    notes: [...amount.notes, ...inches.notes],
  };
}
