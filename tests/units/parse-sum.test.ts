/** Entries as typed into a cell; metres by the exact foot (1959; NIST SP 811), worked out by hand. */
import { beforeAll, describe, expect, it } from 'vitest';
import {
  createSumParser,
  parsePlainEntry,
  parseQuantityEntry,
  type SumParser,
} from '../../src-shared/units/parse-sum.ts';
import type { QuantityKind } from '../../src-shared/units/quantity.ts';
import { createSumCalculator } from '../../src-shared/units/sum-calculator.ts';

let parser: SumParser;
beforeAll(async () => {
  parser = await createSumParser();
});
const enter = (text: string, kind: QuantityKind = 'length', defaultUnit: string | null = null) =>
  parser.parse(text, kind, { defaultUnit, decimal: 'either' });

// biome-ignore format: a table
const sums: readonly (readonly [string, number, string])[] = [
  ['10 ft + 5 ft', 4.572, '15 ft = 4.572 m'], ['=10 ft + 5 ft', 4.572, '15 ft = 4.572 m'],
  ['10 ft + 5 ft + 1 ft', 4.8768, '16 ft = 4.8768 m'], ['(10 + 5) ft', 4.572, '15 ft = 4.572 m'],
  ['3 × 8 ft', 7.3152, '24 ft = 7.3152 m'], ['3x8ft', 7.3152, '24 ft = 7.3152 m'],
  ['3 * 8 ft', 7.3152, '24 ft = 7.3152 m'], ['8 ft × 3', 7.3152, '24 ft = 7.3152 m'],
  ["12'-6\" + 2 m", 5.81, '19.0617 ft = 5.81 m'], ["2 m + 12'-6\"", 5.81, '5.81 m = 19.0617 ft'],
  ["16' + 6\"", 5.0292, '16.5 ft = 5.0292 m'], ['16 ft 6 in + 6 in', 5.1816, '17 ft = 5.1816 m'],
  ['10 ft - 6 in', 2.8956, '9.5 ft = 2.8956 m'], ["20' - 12'", 2.4384, '8 ft = 2.4384 m'],
  ['10 ft + 1/2 ft', 3.2004, '10.5 ft = 3.2004 m'], ['5 1/2 ft + 6"', 1.8288, '6 ft = 1.8288 m'],
  ["12'-6\" - 2'-3\"", 3.1242, '10.25 ft = 3.1242 m'], ['12 ft. 6 in. + 1 ft.', 4.1148, '13.5 ft = 4.1148 m'],
  ['30 ft ÷ 4', 2.286, '7.5 ft = 2.286 m'], ['2 × (3 ft + 4 ft) / 2', 2.1336, '7 ft = 2.1336 m'],
  ['(2+3)ft*2', 3.048, '10 ft = 3.048 m'], ['-(3 ft)', -0.9144, '-3 ft = -0.9144 m'],
  ['3 ft - - 2 ft', 1.524, '5 ft = 1.524 m'], ['1 234,5 m + 1 m', 1235.5, '1235.5 m = 4053.4777 ft'],
  ['3810 mm + 1 m', 4.81, '4810 mm = 4.81 m'], ['1,000 ft × 2', 609.6, '2000 ft = 609.6 m'],
  ['=12 ft', 3.6576, '12 ft = 3.6576 m'], ["16'", 4.8768, '16 ft = 4.8768 m'],
  ['16 ft 6 in', 5.0292, '16.5 ft = 5.0292 m'], ['3.81 m', 3.81, '3.81 m = 12.5 ft'],
];

// biome-ignore format: a table
const kinds: readonly (readonly [QuantityKind, string, string | null, number, string])[] = [
  ['length', '10 + 5', 'ft', 4.572, '15 ft = 4.572 m'], ['length', '=12-6', 'ft', 1.8288, '6 ft = 1.8288 m'],
  ['length', '12', 'ft', 3.6576, '12 ft = 3.6576 m'], ['length', '(3+4)*2', 'm', 14, '14 m = 45.9318 ft'],
  ['current', '20 W / 24 V', null, 20 / 24, '0.8333 A'], ['current', '2 × 0.42 A', null, 0.84, '0.84 A'],
  ['power', '2 x 87 W', null, 174, '174 W'], ['power', '24 V × 0.5 A', null, 12, '12 VA'],
  ['power', '2 × 300 VA', null, 600, '600 VA'], ['percent', '3 % + 2 %', null, 5, '5 %'],
  ['percent', '3 % × 2', null, 6, '6 %'], ['number', '2*3', null, 6, '6'], ['number', '10 ft / 5 ft', null, 2, '2'],
  ['leakage', '3 × 0.75 mA', null, 2.25, '2.25 mA'], ['leakage', '0.5 mA + 0.001 A', null, 1.5, '1.5 mA'],
  ['resistancePerLength', '6.5 ohm/km × 2', null, 13, '13 ohm/km'],
  ['resistancePerLength', '3 ohm / 2 km', null, 1.5, '1.5 ohm/km'], ['resistance', '0.3 ohm + 50 mohm', null, 0.35, '0.35 ohm'],
  ['voltage', '277 V - 12 V', null, 265, '265 V'], ['temperature', '75 °C', null, 75, '75 °C'],
];

// biome-ignore format: a table
const refused: readonly (readonly [QuantityKind, string, RegExp])[] = [
  ['length', '10 ft + 5', /one kind of unit/], ['length', '10 + 5', /no unit/], ['length', '10 ft * 5 ft', /result is not a length/],
  ['length', '10 ft / 5 ft', /result is not a length/], ['length', '10 ft / 0', /no finite result/], ['length', '0 ft / 0', /no finite result/],
  ['length', '12-6', /range or a date; .*a sum begins with =/], ['length', '8-10 ft', /range/], ['length', '2024-01-01', /date/],
  ['length', '(10 ft', /not closed/], ['length', '10 ft)', /closes nothing/], ['length', '3 ft +', /missing at the end/],
  ['length', '=', /missing/], ['length', '10 ft + × 2', /missing before/], ['length', '2 (3 ft)', /no \+ − × ÷ before/],
  ['length', '(5 ft) ft', /result is not a length/], ['length', '10 ft + 10%', /one kind of unit/],
  ['length', '10 ft + 5 W', /one kind of unit/], ['length', '5 pi', /"pi"/], ['length', '5 pi + 1 ft', /"pi \+ 1 ft"/],
  ['length', '10 ft 5 m + 1 m', /no \+ − × ÷ before/], ['length', "20'-15\"", /12 inches or more/],
  ['power', '10 W + 5 VA', /not added/], ['percent', '3% × 2%', /result is not a percentage/],
  ['temperature', '20 °C + 5 °C', /cannot be a sum/], ['length', '20 °C + 5 ft', /temperatures are not added/],
  ['length', '1e9 m × 1e9', /too large/], ['length', "10' - 5", /one kind of unit/],
  ['voltage', '208/120', /system/], ['length', '1e200 ft × 1e200', /finite/],
];

// Texts with which mathjs alone would build huge matrices, run functions or change itself.
const hostile: readonly string[] = [
  'ones(1e4,1e4)', 'ones(20000,20000)', '=ones(1e4,1e4)', 'zeros(1e9)', 'import', 'import({a: 1})', 'config',
  'config({})', '=config', 'createUnit("x")', 'parse("1")', 'evaluate("1")', 'simplify("1")', 'derivative("x^2","x")',
  'x = 3 ft', 'f(x) = x', '"a"', "'a'", '[1,2]', '[1 ft; 2 ft]', '{a: 1}', '1:1e9', '1 ft; 2 ft', '3 ft to m',
  '3 ft in m', '10 ft ^ 2', '2^9^9^9', '170!', '5 ft!', '1 ? 2 : 3', 'true', '1 == 1', '1 < 2', 'i', '2 i ft',
  'e', 'pi', '5 pi', 'sqrt(4) ft', '3 ft.constructor', 'constructor', '__proto__', '=__proto__ + 1 ft', 'end',
  '3 ft # note', '3 ft | 1', '3 % 2', '5 mod 3', '~3 + 1 ft', '@', '(((((((', '('.repeat(190), '-'.repeat(190),
  `${'('.repeat(90)}1 ft${')'.repeat(90)}${')'.repeat(5)}`, '1e999 ft + 1 ft', 'cross([1],[1])', 'unit("5 ft")',
]; // biome-ignore format: a table

describe('entries', () => {
  it.each(sums)('%s', (text, valueM, echo) => {
    const result = enter(text);
    expect(result).toMatchObject({ ok: true, echo });
    expect(result.ok && result.value).toBeCloseTo(valueM, 12);
  });

  it.each(kinds)('%s %s', (kind, text, defaultUnit, value, echo) => {
    const result = enter(text, kind, defaultUnit);
    expect(result).toMatchObject({ ok: true, echo });
    expect(result.ok && result.value).toBeCloseTo(value, 12);
  });

  it.each(refused)('refuses the %s %j', (kind, text, reason) => {
    const result = enter(text, kind);
    expect(result.ok ? `read: ${result.echo}` : result.reason).toMatch(reason);
  });

  it.each(hostile)('refuses %j', (text) => {
    for (const kind of ['length', 'number', 'percent'] as const) {
      const result = enter(text, kind, kind === 'length' ? 'ft' : null);
      expect(result.ok ? result.echo : '').toBe('');
    }
  });

  it('reads deep brackets and many signs rightly', () => {
    const deep = `${'('.repeat(50)}1 ft${')'.repeat(50)}`;
    expect(enter(deep)).toMatchObject({ ok: true, echo: '1 ft = 0.3048 m' });
    expect(enter(`${'- '.repeat(20)}1 ft`)).toMatchObject({ ok: true, echo: '1 ft = 0.3048 m' });
  });

  it('gives the bits of the same length typed at once', () => {
    for (const [sum, once] of [
      ['10 ft + 5 ft', '15 ft'],
      ['0.1 m + 0.2 m', '0.3 m'],
      ['12\'-6" + 2 m', '5.81 m'],
      ['3 × 7 in', '21 in'],
    ] as const) {
      const [a, b] = [enter(sum), enter(once)];
      expect(a.ok && b.ok && a.value).toBe(b.ok && b.value);
    }
  });

  it('answers the same by the asynchronous door, and plain entries without mathjs', async () => {
    const options = { defaultUnit: 'ft', decimal: 'either' } as const;
    for (const [text] of sums) {
      expect(await parseQuantityEntry(text, 'length', options)).toEqual(
        parser.parse(text, 'length', options),
      );
    }
    expect(parsePlainEntry('12 ft', 'length', options)).toMatchObject({ ok: true, value: 3.6576 });
    expect(parsePlainEntry('10 ft + 5 ft', 'length', options)).toBeNull();
    expect(parsePlainEntry('words', 'length', options)).toMatchObject({ ok: false });
  });
});

describe('the calculator behind the entries', () => {
  const calculator = createSumCalculator();

  it.each(hostile)('refuses the expression %j by itself', (text) => {
    const result = calculator.calculate(text);
    expect(result.ok).toBe(false);
  });

  it.each([
    'm()',
    'm(3)',
    'm.x',
    'm = 3',
    '[m]',
    '"m"',
    'm ^ 2',
    'm!',
    'm to W',
    "m'",
    'ft',
    'm; m',
    'm == m',
    'm, m',
    'sum(m)',
    '{m: m}',
    'm ? m : m',
  ])('knows nothing but numbers, its units, + − × ÷ and brackets: %j', (text) => {
    expect(calculator.calculate(text).ok).toBe(false);
  });

  it('can be built more than once', () => {
    expect(createSumCalculator().calculate('(2 m) + 3 * (1 m)')).toEqual({
      ok: true,
      value: 5,
      dimension: 'length',
    });
  });
});
