/** What a user types into a grid cell: a quantity, or a sum of quantities. */
import { echoQuantity } from './echo-quantity.ts';
import { LONGEST_QUANTITY_TEXT, normaliseText } from './normalise-text.ts';
import {
  defaultUnitOf,
  type QuantityOptions,
  type ReadQuantity,
  readQuantity,
} from './parse-quantity.ts';
import {
  GREATEST_QUANTITY,
  type QuantityKind,
  quantityKinds,
  toBaseUnit,
  type UnitOfQuantity,
  unitNamed,
} from './quantity.ts';
import { quoted } from './refuse-quantity.ts';
import type { SumCalculator } from './sum-calculator.ts';
import { readSum, type SumExpression } from './sum-expression.ts';

export type ParsedEntry =
  | (ReadQuantity & {
      /** What was understood: `15 ft = 4.572 m`. */
      readonly echo: string;
    })
  | { readonly ok: false; readonly reason: string };

/** Reads entries at once, mathjs being loaded. */
export interface SumParser {
  readonly parse: (text: string, kind: QuantityKind, options: QuantityOptions) => ParsedEntry;
}

/** Loads mathjs and gives a parser that answers at once. Call it once, when the window is up. */
export async function createSumParser(): Promise<SumParser> {
  const { createSumCalculator } = await import('./sum-calculator.ts');
  const calculator = createSumCalculator();
  return {
    parse: (text, kind, options) =>
      parsePlainEntry(text, kind, options) ?? parseSum(text, kind, options, calculator),
  };
}

let shared: Promise<SumParser> | null = null;

/**
 * Reads one entry; loads mathjs only when the text is a sum. Never throws on any text.
 *
 * @example await parseQuantityEntry('10 ft + 5 ft', 'length', options) // 4.572, "15 ft = 4.572 m"
 */
export async function parseQuantityEntry(
  text: string,
  kind: QuantityKind,
  options: QuantityOptions,
): Promise<ParsedEntry> {
  const plain = parsePlainEntry(text, kind, options);
  if (plain !== null) return plain;
  shared ??= createSumParser();
  return (await shared).parse(text, kind, options);
}

/** The entry when it needs no arithmetic; `null` when it has to be tried as a sum. */
export function parsePlainEntry(
  text: string,
  kind: QuantityKind,
  options: QuantityOptions,
): ParsedEntry | null {
  const read = readQuantity(text, kind, options);
  if (read.ok) return { ...read, echo: echoQuantity(read.value, read.unit, kind, options) };
  if (read.settled || !mayBeSum(text)) {
    const pair = /^[\d.,]+ ?[-/] ?[\d.,]+(?![-/.\d])/u.test(normaliseText(text));
    return { ok: false, reason: pair ? `${read.reason}; a sum begins with =` : read.reason };
  }
  return null;
}

/** A leading `=`, or an operator behind or a bracket around something with a digit in it. */
function mayBeSum(text: string): boolean {
  const normal = normaliseText(text);
  return /^=|\d.*[-+*×÷/()]|[-+(].*\d|\dx? ?[^\d]*x *[\d(]/iu.test(normal);
}

function parseSum(
  text: string,
  kind: QuantityKind,
  options: QuantityOptions,
  calculator: SumCalculator,
): ParsedEntry {
  const whole = normaliseText(text.slice(0, LONGEST_QUANTITY_TEXT));
  const body = whole.replace(/^= ?/u, '');
  const { title, example } = quantityKinds[kind];
  const refuse = (why: string): ParsedEntry => ({
    ok: false,
    reason: `${quoted(whole)}: ${why}; write ${example}${kind === 'temperature' ? '' : ', or a sum of such'}`,
  });
  if (kind === 'temperature') return refuse('a temperature cannot be a sum');
  if (whole.startsWith('=')) {
    const plain = readQuantity(body, kind, options);
    if (plain.ok) return { ...plain, echo: echoQuantity(plain.value, plain.unit, kind, options) };
  }
  const sum = readSum(body, options.decimal);
  if (!sum.ok) return refuse(sum.reason);
  const result = calculator.calculate(sum.expression);
  if (!result.ok) return refuse(result.reason);
  const wanted = quantityKinds[kind].dimension;
  const bare = sum.units.length === 0 && result.dimension === 'none' && wanted !== 'none';
  if (bare) return bareSum(result.value, sum, kind, options, refuse);
  if (result.dimension !== wanted) return refuse(`its result is not ${title}`);
  const mixed = powerMix(sum.units);
  if (mixed !== null) return refuse(mixed);
  const shown = unitOfSum(sum.units, kind);
  const inBase =
    shown === null ? (settle(result.value) ?? result.value) : baseValue(result.value, shown, kind);
  return finish(inBase, shown?.unit ?? null, sum.notes, kind, options, refuse);
}

/** A sum without any unit takes the default unit as a whole. */
function bareSum(
  value: number,
  sum: SumExpression,
  kind: QuantityKind,
  options: QuantityOptions,
  refuse: (why: string) => ParsedEntry,
): ParsedEntry {
  const unit = defaultUnitOf(kind, options);
  if (unit === null) return refuse('it has no unit');
  const notes = [...sum.notes, `no unit: read as ${unit.unit}`];
  return finish(toBaseUnit(settle(value) ?? value, unit, kind), null, notes, kind, options, refuse);
}

function finish(
  value: number,
  unit: string | null,
  notes: readonly string[],
  kind: QuantityKind,
  options: QuantityOptions,
  refuse: (why: string) => ParsedEntry,
): ParsedEntry {
  if (!Number.isFinite(value)) return refuse('it has no finite result (a division by zero?)');
  if (Math.abs(value) > GREATEST_QUANTITY) return refuse('its result is too large a number');
  const number = value + 0;
  return { ok: true, value: number, unit, notes, echo: echoQuantity(number, unit, kind, options) };
}

/**
 * The 12-digit decimal that `value` differs from only by what binary fractions leave behind (a few
 * units in the last place); `null` when there is none, as for 1/3.
 */
function settle(value: number): number | null {
  const short = Number(value.toPrecision(12));
  return Math.abs(value - short) <= Math.abs(value) * 2e-15 ? short : null;
}

/** SI → base unit, by way of the unit typed, so that `10 ft + 5 ft` is to the bit `15 ft`. */
function baseValue(si: number, shown: UnitOfQuantity, kind: QuantityKind): number {
  const typed = settle(shown.fromSi(si));
  if (typed !== null) return toBaseUnit(typed, shown, kind);
  const base = unitNamed(quantityKinds[kind].baseUnit ?? '');
  const value = base === null ? si : base.fromSi(si);
  return settle(value) ?? value;
}

/** The first unit of the result's kind in the text, else the kind's base unit. */
function unitOfSum(units: readonly UnitOfQuantity[], kind: QuantityKind): UnitOfQuantity | null {
  const { dimension, baseUnit } = quantityKinds[kind];
  const first = units.find((u) => u.dimension === dimension);
  if (first !== undefined) return unitNamed(first.unit);
  const voltAmps = kind === 'power' && units.some((u) => u.dimension === 'voltage');
  return baseUnit === null ? null : unitNamed(voltAmps ? 'VA' : baseUnit);
}

/** Watts and volt-amperes have one dimension but must not be added. */
function powerMix(units: readonly UnitOfQuantity[]): string | null {
  const apparent = units.some((u) => u.unit === 'VA' || u.unit === 'kVA');
  const active = units.some((u) => u.unit === 'W' || u.unit === 'kW');
  return apparent && active ? 'watts and volt-amperes are not added' : null;
}
