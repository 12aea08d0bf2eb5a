/** Our unit table against mathjs's own unit conversion, which shares no number with it. */
import { all, create } from 'mathjs';
import { describe, expect, it } from 'vitest';
import {
  fromBaseUnit,
  type QuantityKind,
  quantityKinds,
  toBaseUnit,
  unitNamed,
  unitTable,
} from '../../src-shared/units/quantity.ts';

if (all === undefined) throw new Error('mathjs has no factories');
const math = create(all, {});

// Our name → [kind, mathjs unit, mathjs base unit].
const inMathjs: Readonly<Record<string, readonly [QuantityKind, string, string]>> = {
  ft: ['length', 'ft', 'm'],
  in: ['length', 'inch', 'm'],
  yd: ['length', 'yd', 'm'],
  m: ['length', 'm', 'm'],
  mm: ['length', 'mm', 'm'],
  cm: ['length', 'cm', 'm'],
  km: ['length', 'km', 'm'],
  W: ['power', 'W', 'W'],
  kW: ['power', 'kW', 'W'],
  A: ['current', 'A', 'A'],
  mA: ['current', 'mA', 'A'],
  µA: ['current', 'uA', 'A'],
  V: ['voltage', 'V', 'V'],
  kV: ['voltage', 'kV', 'V'],
  mV: ['voltage', 'mV', 'V'],
  ohm: ['resistance', 'ohm', 'ohm'],
  mohm: ['resistance', 'milliohm', 'ohm'],
  kohm: ['resistance', 'kiloohm', 'ohm'],
  Mohm: ['resistance', 'megaohm', 'ohm'],
  'ohm/km': ['resistancePerLength', 'ohm/km', 'ohm/km'],
  'ohm/ft': ['resistancePerLength', 'ohm/ft', 'ohm/km'],
  'ohm/m': ['resistancePerLength', 'ohm/m', 'ohm/km'],
  'mohm/m': ['resistancePerLength', 'milliohm/m', 'ohm/km'],
  'mohm/km': ['resistancePerLength', 'milliohm/km', 'ohm/km'],
  'mohm/ft': ['resistancePerLength', 'milliohm/ft', 'ohm/km'],
  '°C': ['temperature', 'degC', 'degC'],
  '°F': ['temperature', 'degF', 'degC'],
};

// mathjs has no name of its own for these: volt-amperes carry no factor but 1 and 1000, a percent
// none, and the thousand feet is checked as ten ohm per foot over ten thousand below.
const without = new Set(['VA', 'kVA', '%', 'ohm/kft']);

describe('unit table', () => {
  it('is compared whole', () => {
    const names = unitTable.map((u) => u.unit);
    expect(names.filter((n) => !without.has(n)).sort()).toEqual(Object.keys(inMathjs).sort());
  });

  it.each(Object.entries(inMathjs))('%s converts as in mathjs, both ways', (name, entry) => {
    const [kind, unitText, baseText] = entry;
    const unit = unitNamed(name);
    if (unit === null) throw new Error(`no unit ${name}`);
    for (const value of [1, 0.37, 12, 1234.5, 0.00075]) {
      const expected = math.unit(value, unitText).toNumber(baseText);
      const base = toBaseUnit(value, unit, kind);
      expect(Math.abs(base - expected)).toBeLessThanOrEqual(Math.abs(expected) * 1e-14 + 1e-13);
      expect(fromBaseUnit(base, unit, kind)).toBeCloseTo(value, 9);
    }
  });

  it('holds leakage in mA', () => {
    const [amp, milli, micro] = ['A', 'mA', 'µA'].map(unitNamed);
    if (!amp || !milli || !micro) throw new Error('units missing');
    expect(toBaseUnit(0.00075, amp, 'leakage')).toBe(0.75);
    expect(toBaseUnit(0.75, milli, 'leakage')).toBe(0.75);
    expect(toBaseUnit(750, micro, 'leakage')).toBe(0.75);
  });

  it('reads a thousand feet as 0.3048 km', () => {
    // NEC Chapter 9 Table 8 prints 12 AWG stranded uncoated copper as 1.98 ohm/kFT and 6.50 ohm/km
    // (from memory): the same value in both columns, to the digits printed.
    const kft = unitNamed('ohm/kft');
    if (kft === null) throw new Error('no ohm/kft');
    expect(toBaseUnit(1.98, kft, 'resistancePerLength').toFixed(2)).toBe('6.50');
    const mathjs = math.unit(1.98 / 1000, 'ohm/ft').toNumber('ohm/km');
    expect(toBaseUnit(1.98, kft, 'resistancePerLength')).toBeCloseTo(mathjs, 12);
  });

  it('has the fixed points of the Fahrenheit scale', () => {
    // NIST SP 811, Appendix B: t/°C = (t/°F − 32)/1.8.
    const f = unitNamed('°F');
    if (f === null) throw new Error('no °F');
    expect(toBaseUnit(32, f, 'temperature')).toBe(0);
    expect(toBaseUnit(212, f, 'temperature')).toBe(100);
    expect(toBaseUnit(-40, f, 'temperature')).toBe(-40);
  });

  it('spells no unit twice', () => {
    const spellings = unitTable.flatMap((u) => [...u.words, ...u.symbols]);
    expect(new Set(spellings).size).toBe(spellings.length);
    expect(unitTable.every((u) => u.words.every((w) => w === w.toLowerCase()))).toBe(true);
    for (const kind of Object.values(quantityKinds)) {
      if (kind.baseUnit !== null) expect(unitNamed(kind.baseUnit)).not.toBeNull();
    }
  });
});
