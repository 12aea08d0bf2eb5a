/**
 * Tables of texts as schedules write them. Values in metres are products with the exact definitions
 * 1 ft = 0.3048 m, 1 in = 0.0254 m (agreement of 1959; NIST SP 811) worked out by hand; what a
 * notation means is common practice, no source.
 */
import { describe, expect, it } from 'vitest';
import { parseQuantity } from '../../src-shared/units/parse-quantity.ts';
import type { QuantityKind } from '../../src-shared/units/quantity.ts';
import type { DecimalMark } from '../../src-shared/units/read-number.ts';

const read = (
  text: string,
  kind: QuantityKind,
  defaultUnit: string | null = null,
  decimal: DecimalMark = 'either',
) => parseQuantity(text, kind, { defaultUnit, decimal });

const reasonOf = (text: string, kind: QuantityKind, defaultUnit: string | null = null): string => {
  const result = read(text, kind, defaultUnit);
  return result.ok ? `read as ${result.value}` : result.reason;
};

// biome-ignore format: a table
const lengths: readonly (readonly [string, number, string])[] = [
  ["12'-6\"", 3.81, 'ft'], ["12' 6\"", 3.81, 'ft'], ["12'6\"", 3.81, 'ft'], ["12'6", 3.81, 'ft'],
  ["12' - 6\"", 3.81, 'ft'], ["12'-6", 3.81, 'ft'], ["12'6''", 3.81, 'ft'], ["12.5'", 3.81, 'ft'],
  ['12 ft 6', 3.81, 'ft'], ['12 ft 6 in', 3.81, 'ft'], ['12ft6in', 3.81, 'ft'],
  ['12ft-6in', 3.81, 'ft'], ['12 feet 6 inches', 3.81, 'ft'], ['150"', 3.81, 'in'],
  ['5 1/2 ft', 1.6764, 'ft'], ['5½ ft', 1.6764, 'ft'], ['5-1/2 ft', 1.6764, 'ft'],
  ['½ ft', 0.1524, 'ft'], ['3/4"', 0.01905, 'in'], ["12'-6 1/2\"", 3.8227, 'ft'],
  ["12'-6½\"", 3.8227, 'ft'], ["12'-6-1/2\"", 3.8227, 'ft'], ["10'-0 1/2\"", 3.0607, 'ft'],
  ["12'-6.5\"", 3.8227, 'ft'], ["0'-6\"", 0.1524, 'ft'], ["16'", 4.8768, 'ft'],
  ['16 ft 6 in', 5.0292, 'ft'], ['12′-6″', 3.81, 'ft'], ['12’6”', 3.81, 'ft'],
  ['3.81 m', 3.81, 'm'], ['3,81 m', 3.81, 'm'], ['3810 mm', 3.81, 'mm'], ['3810mm', 3.81, 'mm'],
  ['381 cm', 3.81, 'cm'], ['0.5 km', 500, 'km'], ['1,000 ft', 304.8, 'ft'],
  ['1.234,5 m', 1234.5, 'm'], ['1,234.5 m', 1234.5, 'm'], ['1 234,5 m', 1234.5, 'm'],
  ['1\u00A0234,5\u00A0m', 1234.5, 'm'], ['1\u2009234,5 m', 1234.5, 'm'], ['1\u202F234,5 m', 1234.5, 'm'],
  ['1,234,567 mm', 1234.567, 'mm'], ['12 FT', 3.6576, 'ft'], ['12 Ft.', 3.6576, 'ft'],
  ['12 feet', 3.6576, 'ft'], ['1 foot', 0.3048, 'ft'], ['12 LF', 3.6576, 'ft'], ['2 yd', 1.8288, 'yd'],
  ['6 inch', 0.1524, 'in'], ['6 in.', 0.1524, 'in'], ['6 IN', 0.1524, 'in'], ['3 metres', 3, 'm'],
  ['3 meter', 3, 'm'], ['3 mtr', 3, 'm'], ['3M', 3, 'm'], ['1e3 ft', 304.8, 'ft'], ['1.5E1m', 15, 'm'],
  ['−3 ft', -0.9144, 'ft'], ['- 3 ft', -0.9144, 'ft'], ["-12'-6\"", -3.81, 'ft'], ['+3 ft', 0.9144, 'ft'],
  ['@ 2.5 m c/c', 2.5, 'm'], ['12 m max', 12, 'm'], ['max. 12 m', 12, 'm'], ['12 m each', 12, 'm'],
  ['~12 m', 12, 'm'], ['\uFF11\uFF12 m', 12, 'm'], ['.5 m', 0.5, 'm'], ['  12   m ', 12, 'm'],
  ['12\u200B m', 12, 'm'], ['0 ft', 0, 'ft'],
];

// biome-ignore format: a table
const others: readonly (readonly [QuantityKind, string, number, string | null])[] = [
  ['power', '87W', 87, 'W'], ['power', '87 W', 87, 'W'], ['power', '87 W max', 87, 'W'],
  ['power', '87 W (max)', 87, 'W'], ['power', '87.5 watts', 87.5, 'W'], ['power', '1,2 kW', 1200, 'kW'],
  ['power', '300VA', 300, 'VA'], ['power', '0.3 kVA', 300, 'kVA'], ['power', '1,250 W', 1250, 'W'],
  ['current', '0.42A', 0.42, 'A'], ['current', '20A', 20, 'A'], ['current', '20 A', 20, 'A'],
  ['current', '20AT', 20, 'A'], ['current', '20A/1P', 20, 'A'], ['current', '20A-2P', 20, 'A'],
  ['current', '15 amps', 15, 'A'], ['current', '750 mA', 0.75, 'mA'],
  ['voltage', '347V', 347, 'V'], ['voltage', '347 VAC', 347, 'V'], ['voltage', '208 V 1φ', 208, 'V'],
  ['voltage', '208 V 1ϕ', 208, 'V'], ['voltage', '208V 1Ø', 208, 'V'], ['voltage', '208V 1ph', 208, 'V'],
  ['voltage', '277 L-N', 277, 'V'], ['voltage', '208 L-L', 208, 'V'], ['voltage', '208V/1Ph/60Hz', 208, 'V'],
  ['voltage', '230V 50Hz', 230, 'V'], ['voltage', '230 V~', 230, 'V'], ['voltage', '24 VDC', 24, 'V'],
  ['voltage', '0.4 kV', 400, 'kV'],
  ['resistance', '0.35 \u2126', 0.35, 'ohm'], ['resistance', '0.35 \u03A9', 0.35, 'ohm'],
  ['resistance', '5 mΩ', 0.005, 'mohm'], ['resistance', '5 MΩ', 5e6, 'Mohm'], ['resistance', '2 kohm', 2000, 'kohm'],
  ['resistancePerLength', '6.5ohm/km', 6.5, 'ohm/km'], ['resistancePerLength', '6.5 Ω/km', 6.5, 'ohm/km'],
  ['resistancePerLength', '0 ohm/km', 0, 'ohm/km'],
  ['resistancePerLength', '1.524 ohm/kft', 5, 'ohm/kft'], ['resistancePerLength', '1.524 ohm/1000ft', 5, 'ohm/kft'],
  ['resistancePerLength', '1.524 Ω/1,000 ft', 5, 'ohm/kft'], ['resistancePerLength', '0.001524 ohm/ft', 5, 'ohm/ft'],
  ['resistancePerLength', '0.0065 ohm/m', 6.5, 'ohm/m'], ['resistancePerLength', '6.5 mohm/m', 6.5, 'mohm/m'],
  ['resistancePerLength', '6.5 ohms per km', 6.5, 'ohm/km'],
  ['percent', '3 %', 3, '%'], ['percent', '3%', 3, '%'], ['percent', '±5 %', 5, '%'],
  ['percent', '+/-5%', 5, '%'], ['percent', '-5 %', -5, '%'],
  ['leakage', '0.75 mA', 0.75, 'mA'], ['leakage', '0.00075 A', 0.75, 'A'], ['leakage', '750 \u00B5A', 0.75, 'µA'],
  ['leakage', '750 \u03BCA', 0.75, 'µA'], ['leakage', '750 uA', 0.75, 'µA'], ['leakage', '≤ 0.75 mA', 0.75, 'mA'],
  ['temperature', '75 °C', 75, '°C'], ['temperature', '167 °F', 75, '°F'], ['temperature', '75 \u2103', 75, '°C'],
  ['temperature', '-40 F', -40, '°F'], ['temperature', '75 deg C', 75, '°C'],
  ['number', '0.95', 0.95, null], ['number', '0,95', 0.95, null], ['number', '1/8', 0.125, null],
  ['number', '½', 0.5, null], ['number', '1e-3', 0.001, null],
];

// A bare number or a qualifier with the kind's default unit; the note must say what was decided.
// biome-ignore format: a table
const noted: readonly (readonly [QuantityKind, string, string | null, number, string])[] = [
  ['length', '12', 'ft', 3.6576, 'no unit: read as ft'], ['length', '3810', 'mm', 3.81, 'no unit: read as mm'],
  ['length', '5 1/2', 'ft', 1.6764, 'no unit: read as ft'], ['resistancePerLength', '6.5', 'Ω/km', 6.5, 'no unit: read as ohm/km'],
  ['voltage', '208/1', 'V', 208, 'read the part before the slash'], ['voltage', '208/3', 'V', 208, 'read the part before the slash'],
  ['current', '20/1', 'A', 20, 'read the part before the slash'], ['current', 'C16', 'A', 16, 'the tripping curve was not read'],
  ['length', "12'6", null, 3.81, '6 behind the feet read as inches'],
  ['length', "12' - 6\"", null, 3.81, 'the hyphen joins feet and inches; it was not read as minus'],
  ['length', '1,000 ft', null, 304.8, 'comma read as a thousands mark'], ['length', '1,234 m', null, 1.234, 'comma read as the decimal mark'],
  ['length', '1.234 m', null, 1.234, 'dot read as the decimal mark'], ['length', '12 100 ft', null, 3688.08, 'blank read as a thousands mark'],
  ['power', '87 W typ', null, 87, 'typical, not maximum'], ['power', 'typ. 87 W', null, 87, 'typical, not maximum'],
  ['power', '87 W avg', null, 87, 'average, not maximum'], ['power', 'min 87 W', null, 87, 'a lower limit'],
  ['power', '<= 87 W', null, 87, 'an upper limit'], ['power', '~87 W', null, 87, 'approximate'],
  ['percent', '±5 %', null, 5, 'the same both ways; read without its sign'],
  ['voltage', '24 VDC', null, 24, 'direct current'], ['voltage', '277 L-N', null, 277, 'line to neutral'],
];

// biome-ignore format: a table
const refused: readonly (readonly [QuantityKind, string, string | null, RegExp])[] = [
  ['length', '', null, /empty/], ['length', '   ', null, /empty/], ['length', '12', null, /no unit; write 40 ft or 12\.2 m/],
  ['length', '12-6', null, /feet and inches, a range or a date/], ['length', '12-6', 'ft', /feet and inches, a range or a date/],
  ['length', '12–6', 'ft', /range or a date/], ['length', '8-10 ft', null, /range/], ['length', '8 to 10 ft', null, /range/],
  ['length', '1/2', 'ft', /date/], ['length', '3/1/2024', 'ft', /date/], ['length', '2024-03-01', 'ft', /date/],
  ['length', '2024-03-01 00:00:00', 'ft', /date/], ['length', '1-Mar', 'ft', /date/], ['length', 'March 1, 2024', 'ft', /date/],
  ['length', '1.3.2024', 'ft', /date/], ['length', '"', 'ft', /ditto/], ['length', 'TBD', 'ft', /not a length/],
  ['length', 'EQ', 'ft', /not a length/], ['length', 'n/a', 'ft', /not a length/], ['length', '-', 'ft', /not a length/],
  ['length', 'see note 3', 'ft', /not a length/], ['length', '12 ft - 6 in', null, /not one quantity/],
  ['length', '10 ft + 5 ft', null, /not one quantity/], ['length', '3 × 8 ft', null, /not one quantity/],
  ['length', "20'-15\"", null, /12 inches or more/], ['length', "12.5' 6\"", null, /fraction of a foot/],
  ['length', '1e400 m', null, /too large/], ['length', '9'.repeat(190), 'ft', /too large/], ['length', '9'.repeat(5000), 'ft', /too long/],
  ['length', '12 m²', null, /not understood/], ['length', '12 m2', null, /not understood/], ['length', '12 ft2', null, /not understood/],
  ['length', '12 parsec', null, /"parsec" was not understood/], ['length', '12 m 6 in', null, /"6 in" was not understood/],
  ['length', '5 W', null, /in W/], ['length', '1.2.3 m', null, /./], ['length', '1,23,4 m', null, /not one number/],
  ['length', '10⁵ m', null, /./], ['length', '=12 ft', null, /formula/], ['length', "1'234", null, /./], ['length', "1'000", null, /./], ['length', '1e16 m', null, /too large/], ['length', "20'-12\"", null, /12 inches or more/],
  ['power', '0.42A', null, /in A/], ['power', '5 W/m', null, /./], ['power', '87', null, /no unit; write 87 W/],
  ['power', '2 x 87 W', null, /not one quantity/], ['power', 'NaN W', null, /./], ['power', 'Infinity W', null, /./],
  ['voltage', 'UNV', 'V', /universal/], ['voltage', 'Universal', 'V', /universal/],
  ['voltage', '208/120', 'V', /system of two voltages/], ['voltage', '120/277', 'V', /system of two voltages/],
  ['voltage', '208Y/120 V', 'V', /system of two voltages/], ['voltage', '480Y277', 'V', /system of two voltages/],
  ['voltage', '120-277V', 'V', /range/], ['voltage', '120 to 277 V', 'V', /range/], ['voltage', '208/1', null, /no unit/],
  ['resistance', '5 MOHM', null, /./], ['resistancePerLength', '6.5 MΩ/km', null, /./],
  ['resistancePerLength', '3 ohm', null, /in ohm/], ['resistancePerLength', '6.5', null, /no unit/],
  ['percent', '5', null, /no unit; write 3 %/], ['number', '12 ft', null, /in ft/], ['number', '95 %', null, /in %/],
  ['number', '1,000', null, /could be 1000 or 1\.0/], ['number', '3/1', null, /date/], ['temperature', '75', null, /no unit/],
];

describe('parseQuantity', () => {
  it.each(lengths)('reads the length %j', (text, valueM, unit) => {
    const result = read(text, 'length');
    expect(result).toMatchObject({ ok: true, unit });
    expect(result.ok && result.value).toBeCloseTo(valueM, 12);
  });

  it.each(others)('reads the %s %j', (kind, text, value, unit) => {
    const result = read(text, kind);
    expect(result).toMatchObject({ ok: true, unit });
    expect(result.ok && result.value).toBeCloseTo(value, 12);
  });

  it.each(noted)('notes how the %s %j was read', (kind, text, defaultUnit, value, note) => {
    const result = read(text, kind, defaultUnit);
    expect(result.ok && result.value).toBeCloseTo(value, 12);
    expect(result.ok && result.notes).toContain(note);
  });

  it.each(refused)('refuses the %s %j', (kind, text, defaultUnit, reason) => {
    expect(reasonOf(text, kind, defaultUnit)).toMatch(reason);
    expect(reasonOf(text, kind, defaultUnit)).not.toMatch(/^read as/);
  });

  it.each([
    // [text, dot, comma, either] in metres or millimetres as typed
    ['1.500 m', 1.5, 1500, 1.5],
    ['1,500 m', 1500, 1.5, 1.5],
    ['1,500 mm', 1.5, 0.0015, 1.5],
    ['0,950 m', 0.95, 0.95, 0.95],
    ['3,81 m', 3.81, 3.81, 3.81],
    ['3.81 m', 3.81, 3.81, 3.81],
    ['1.234,5 m', 1234.5, 1234.5, 1234.5],
    ['1,234.5 m', 1234.5, 1234.5, 1234.5],
  ] as const)('%s goes by the decimal mark of the sheet', (text, dot, comma, either) => {
    const values = (['dot', 'comma', 'either'] as const).map((mark) => {
      const result = read(text, 'length', null, mark);
      return result.ok ? result.value : result.reason;
    });
    expect(values).toEqual([dot, comma, either]);
  });

  it('says nothing more when nothing was decided', () => {
    for (const text of ['12\'-6"', '12 ft', '3.81 m', '3810 mm', '150"']) {
      expect(read(text, 'length', 'ft', 'dot')).toMatchObject({ ok: true, notes: [] });
    }
    expect(read('3,81 m', 'length', 'm', 'comma')).toMatchObject({ ok: true, notes: [] });
  });

  it('does not take a default unit of another kind', () => {
    expect(reasonOf('12', 'length', 'W')).toMatch(/no unit/);
    expect(reasonOf('12', 'length', 'nonsense')).toMatch(/no unit/);
  });

  it('never gives a negative zero', () => {
    const result = read('-0 ft', 'length');
    expect(result.ok && Object.is(result.value, 0)).toBe(true);
  });
});
