/**
 * The kinds of quantity that are read, the base unit each is held in, and the units each accepts.
 * Factors are exact by definition: the foot as in `length.ts`, SI prefixes, °F as NIST SP 811.
 */
import { inchesFromMetres, METRES_PER_FOOT, metresFromFeet, metresFromInches } from './length.ts';

export type QuantityKind =
  | 'length'
  | 'power'
  | 'current'
  | 'voltage'
  | 'resistance'
  | 'resistancePerLength'
  | 'percent'
  | 'leakage'
  | 'temperature'
  | 'number';

/** What a quantity is physically: two kinds of one dimension (current, leakage) share units. */
export type Dimension =
  | 'length'
  | 'power'
  | 'current'
  | 'voltage'
  | 'resistance'
  | 'resistancePerLength'
  | 'percent'
  | 'temperature'
  | 'none';

export interface KindOfQuantity {
  readonly kind: QuantityKind;
  readonly dimension: Dimension;
  /** Unit a parsed value is held in; `null` for a plain number. */
  readonly baseUnit: string | null;
  /** The name used in messages, with its article. */
  readonly title: string;
  /** What to write instead, for messages. */
  readonly example: string;
}

const kind = (
  name: QuantityKind,
  dimension: Dimension,
  baseUnit: string | null,
  title: string,
  example: string,
): KindOfQuantity => ({ kind: name, dimension, baseUnit, title, example });

/** One entry per kind. */
export const quantityKinds: Readonly<Record<QuantityKind, KindOfQuantity>> = {
  length: kind('length', 'length', 'm', 'a length', '40 ft or 12.2 m'),
  power: kind('power', 'power', 'W', 'a power', '87 W'),
  current: kind('current', 'current', 'A', 'a current', '20 A'),
  voltage: kind('voltage', 'voltage', 'V', 'a voltage', '277 V'),
  resistance: kind('resistance', 'resistance', 'ohm', 'a resistance', '0.35 ohm'),
  resistancePerLength: kind(
    'resistancePerLength',
    'resistancePerLength',
    'ohm/km',
    'a resistance per length',
    '6.5 ohm/km or 1.98 ohm/kft',
  ),
  percent: kind('percent', 'percent', '%', 'a percentage', '3 %'),
  leakage: kind('leakage', 'current', 'mA', 'a leakage current', '0.75 mA'),
  temperature: kind('temperature', 'temperature', '°C', 'a temperature', '75 °C or 167 °F'),
  number: kind('number', 'none', null, 'a number', '0.95'),
};

/**
 * Greatest magnitude that is read, in a kind's base unit: beyond any installation, and small enough
 * that squares and products of quantities stay finite and digits stay exact.
 */
export const GREATEST_QUANTITY = 1e15;

/** How a three-digit group behind one separator is read when nothing else decides. */
export type LoneGroup = 'thousands' | 'decimal';

export interface UnitOfQuantity {
  /** Normalised name, as reported. */
  readonly unit: string;
  readonly dimension: Dimension;
  /** Value in this unit → the dimension's SI unit (m, W, A, V, ohm, ohm/km, %, °C). */
  readonly toSi: (value: number) => number;
  /** SI → value in this unit. */
  readonly fromSi: (value: number) => number;
  readonly loneGroup: LoneGroup;
  /** Spellings, lower case, taken in any case. */
  readonly words: readonly string[];
  /** Spellings whose case carries meaning (mΩ is not MΩ). */
  readonly symbols: readonly string[];
}

const same = (value: number): number => value;

const unit = (
  name: string,
  dimension: Dimension,
  convert: readonly [(value: number) => number, (value: number) => number],
  loneGroup: LoneGroup,
  words: readonly string[],
  symbols: readonly string[] = [],
): UnitOfQuantity => ({
  unit: name,
  dimension,
  toSi: convert[0],
  fromSi: convert[1],
  loneGroup,
  words,
  symbols,
});

const itself = [same, same] as const;
const times = (n: number) => [(value: number) => value * n, (value: number) => value / n] as const;
const over = (n: number) => [(value: number) => value / n, (value: number) => value * n] as const;

/** Every unit that is read. Spellings are as they stand after `normaliseText`. */
export const unitTable: readonly UnitOfQuantity[] = [
  unit('ft', 'length', [metresFromFeet, (m) => (m * 10000) / 3048], 'thousands', [
    "'", 'ft', 'ft.', 'fts', 'foot', 'feet', 'lf', 'lin ft', 'lin. ft', 'linear ft', 'linear feet',
  ]), // biome-ignore format: a table
  unit('in', 'length', [metresFromInches, inchesFromMetres], 'thousands', [
    '"', 'in', 'in.', 'ins', 'inch', 'inches',
  ]), // biome-ignore format: a table
  unit('yd', 'length', [(v) => metresFromFeet(v * 3), (m) => (m * 10000) / 9144], 'thousands', [
    'yd', 'yd.', 'yds', 'yard', 'yards',
  ]), // biome-ignore format: a table
  unit('m', 'length', itself, 'decimal', [
    'm', 'm.', 'mtr', 'mtr.', 'mtrs', 'mtrs.', 'metre', 'metres', 'meter', 'meters',
  ]), // biome-ignore format: a table
  unit('mm', 'length', over(1000), 'thousands', [
    'mm', 'mm.', 'millimetre', 'millimetres', 'millimeter', 'millimeters',
  ]), // biome-ignore format: a table
  unit('cm', 'length', over(100), 'decimal', [
    'cm', 'cm.', 'centimetre', 'centimetres', 'centimeter', 'centimeters',
  ]), // biome-ignore format: a table
  unit('km', 'length', times(1000), 'decimal', [
    'km', 'km.', 'kilometre', 'kilometres', 'kilometer', 'kilometers',
  ]), // biome-ignore format: a table
  unit('W', 'power', itself, 'thousands', ['w', 'w.', 'watt', 'watts']),
  unit('kW', 'power', times(1000), 'decimal', ['kw', 'kilowatt', 'kilowatts']),
  unit('VA', 'power', itself, 'thousands', [
    'va',
    'v.a.',
    'volt-ampere',
    'volt-amperes',
    'voltamperes',
  ]),
  unit('kVA', 'power', times(1000), 'decimal', ['kva']),
  unit('A', 'current', itself, 'decimal', ['a', 'a.', 'at', 'amp', 'amps', 'ampere', 'amperes']),
  unit('mA', 'current', over(1000), 'decimal', [
    'ma',
    'milliamp',
    'milliamps',
    'milliampere',
    'milliamperes',
  ]),
  unit('µA', 'current', over(1e6), 'decimal', [
    'µa',
    'ua',
    'microamp',
    'microamps',
    'microamperes',
  ]),
  unit('V', 'voltage', itself, 'thousands', [
    'v',
    'v.',
    'volt',
    'volts',
    'vac',
    'v ac',
    'v.a.c.',
    'volts ac',
    'vdc',
    'v dc',
    'volts dc',
  ]),
  unit('kV', 'voltage', times(1000), 'decimal', ['kv', 'kilovolt', 'kilovolts']),
  unit('mV', 'voltage', over(1000), 'decimal', ['millivolt', 'millivolts'], ['mV']),
  unit('ohm', 'resistance', itself, 'decimal', ['ω', 'ohm', 'ohms']),
  unit(
    'mohm',
    'resistance',
    over(1000),
    'decimal',
    ['milliohm', 'milliohms'],
    ['mΩ', 'mohm', 'mohms', 'mOhm'],
  ),
  unit('kohm', 'resistance', times(1000), 'decimal', ['kω', 'kohm', 'kohms', 'kiloohm']),
  unit('Mohm', 'resistance', times(1e6), 'decimal', ['megohm', 'megohms'], ['MΩ', 'Mohm', 'MOhm']),
  unit('ohm/km', 'resistancePerLength', itself, 'decimal', []),
  unit(
    'ohm/kft',
    'resistancePerLength',
    [(v) => v / METRES_PER_FOOT, (v) => v * METRES_PER_FOOT],
    'decimal',
    [],
  ),
  unit('ohm/ft', 'resistancePerLength', [
    (v) => (v * 1000) / METRES_PER_FOOT,
    (v) => (v * METRES_PER_FOOT) / 1000,
  ], 'decimal', []), // biome-ignore format: a table
  unit('ohm/m', 'resistancePerLength', times(1000), 'decimal', []),
  unit('mohm/m', 'resistancePerLength', itself, 'decimal', []),
  unit('mohm/km', 'resistancePerLength', over(1000), 'decimal', []),
  unit(
    'mohm/ft',
    'resistancePerLength',
    [(v) => v / METRES_PER_FOOT, (v) => v * METRES_PER_FOOT],
    'decimal',
    [],
  ),
  unit('%', 'percent', itself, 'decimal', ['%', 'percent', 'per cent', 'pct']),
  unit('°C', 'temperature', itself, 'decimal', [
    '°c',
    'c',
    'deg c',
    'deg. c',
    'degc',
    'celsius',
    'degrees celsius',
  ]),
  unit('°F', 'temperature', [(v) => ((v - 32) * 5) / 9, (v) => (v * 9) / 5 + 32], 'decimal', [
    '°f', 'f', 'deg f', 'deg. f', 'degf', 'fahrenheit', 'degrees fahrenheit',
  ]), // biome-ignore format: a table
];

const unitByName: ReadonlyMap<string, UnitOfQuantity> = new Map(unitTable.map((u) => [u.unit, u]));

/** A unit by its normalised name; `null` when there is none. */
export function unitNamed(name: string): UnitOfQuantity | null {
  return unitByName.get(name) ?? null;
}

/** A value in `from` as the kind's base unit (`quantityKinds[kind].baseUnit`). */
export function toBaseUnit(value: number, from: UnitOfQuantity, kindName: QuantityKind): number {
  const base = quantityKinds[kindName].baseUnit;
  if (base === null || base === from.unit) return value;
  const si = from.toSi(value);
  return unitNamed(base)?.fromSi(si) ?? si;
}

/** A value in the kind's base unit expressed in the unit `to`, not rounded. */
export function fromBaseUnit(value: number, to: UnitOfQuantity, kindName: QuantityKind): number {
  const base = quantityKinds[kindName].baseUnit;
  if (base === null || base === to.unit) return value;
  return to.fromSi(unitNamed(base)?.toSi(value) ?? value);
}
