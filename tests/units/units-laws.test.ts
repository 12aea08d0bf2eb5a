/** Laws that hold for any value and any text. Seeds are kept. */
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { formatLength, formatNumber } from '../../src-shared/units/format-quantity.ts';
import { metresFromUnit } from '../../src-shared/units/length.ts';
import { parseQuantity } from '../../src-shared/units/parse-quantity.ts';
import { createSumParser, type SumParser } from '../../src-shared/units/parse-sum.ts';
import { type QuantityKind, quantityKinds } from '../../src-shared/units/quantity.ts';

const kinds = Object.keys(quantityKinds) as QuantityKind[];
const anyKind = fc.constantFrom(...kinds);
const anyMark = fc.constantFrom('dot' as const, 'comma' as const, 'either' as const);
const anyLengthUnit = fc.constantFrom('ft' as const, 'm' as const);
const hundredths = (max: number) => fc.integer({ min: 0, max }).map((n) => n / 100);

// Texts near the grammar: its own words and signs in any order.
// biome-ignore format: a table
const pieces = fc.constantFrom(
  '12', '6', '0', '1,000', '3,81', '1.234,5', '1 234', '1/2', '1e3', "'", '"', ' ', ' ft', ' in', ' m', ' mm', 'W', ' VA',
  ' V', ' A', ' mA', ' %', ' ohm/km', ' Ω/kft', '°C', '+', '-', '−', '–', '×', 'x', '*', '/', '÷', '(', ')', '=', ',', '.',
  ' max', 'typ', '±', '~', 'φ', '½', '\u00A0', '\u2009', '′', '″', 'UNV', 'e', 'pi', '^', ';', '[', ']', '\\', '\n', '\u{1F4A1}', 'ﬀ', '\uD800',
);
const nearText = fc.array(pieces, { maxLength: 14 }).map((parts) => parts.join(''));
const anyText = fc.oneof(
  nearText,
  fc.string({ unit: 'binary', maxLength: 80 }),
  fc.string({ unit: 'grapheme', maxLength: 80 }),
);

let sums: SumParser;
beforeAll(async () => {
  sums = await createSumParser();
});

describe('laws of quantities', () => {
  it('never throw, and answer with a finite number or a reason', () => {
    fc.assert(
      fc.property(anyText, anyKind, anyMark, fc.boolean(), (text, kind, decimal, withDefault) => {
        const options = { defaultUnit: withDefault ? quantityKinds[kind].baseUnit : null, decimal };
        for (const result of [
          parseQuantity(text, kind, options),
          sums.parse(text, kind, options),
        ]) {
          if (result.ok) {
            expect(Number.isFinite(result.value)).toBe(true);
            expect(Object.is(result.value, -0)).toBe(false);
          } else {
            expect(result.reason.length).toBeGreaterThan(10);
            expect(result.reason).not.toMatch(/undefined|NaN|\[object|at .*\.ts/);
          }
        }
      }),
      { seed: 20260, numRuns: 6000 },
    );
  });

  it('a plain reading is the entry’s reading', () => {
    fc.assert(
      fc.property(nearText, anyKind, anyMark, (text, kind, decimal) => {
        const options = { defaultUnit: null, decimal };
        const plain = parseQuantity(text, kind, options);
        if (plain.ok) expect(sums.parse(text, kind, options)).toMatchObject(plain);
      }),
      { seed: 20261, numRuns: 2000 },
    );
  });

  it('what is formatted reads back as the same length', () => {
    fc.assert(
      fc.property(hundredths(100_000_00), anyLengthUnit, (length, unit) => {
        const lengthM = metresFromUnit(length, unit);
        const again = parseQuantity(formatLength(lengthM, unit), 'length', {
          defaultUnit: null,
          decimal: 'dot',
        });
        expect(again).toEqual({ ok: true, value: lengthM, unit, notes: [] });
      }),
      { seed: 20262, numRuns: 2000 },
    );
  });

  it('switching units a hundred times prints the same text', () => {
    fc.assert(
      fc.property(hundredths(1_000_00), anyLengthUnit, (length, unit) => {
        const lengthM = metresFromUnit(length, unit);
        const first = formatLength(lengthM, unit);
        for (let i = 0; i < 100; i += 1) formatLength(lengthM, i % 2 === 0 ? 'ft' : 'm');
        expect(formatLength(lengthM, unit)).toBe(first);
      }),
      { seed: 20263, numRuns: 100 },
    );
  });

  it('feet and inches are twelve inches to the foot', () => {
    const spellings = [
      (f: number, i: string) => `${f}'-${i}"`,
      (f: number, i: string) => `${f}' ${i}"`,
      (f: number, i: string) => `${f} ft ${i} in`,
      (f: number, i: string) => `${f}′ - ${i}″`,
      (f: number, i: string) => `${f}ft${i}in`,
    ];
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 5000 }),
        fc.integer({ min: 0, max: 191 }),
        fc.constantFrom(...spellings),
        (feet, sixteenths, spell) => {
          const [whole, part] = [Math.floor(sixteenths / 16), sixteenths % 16];
          const inches = part === 0 ? `${whole}` : `${whole} ${part}/16`;
          const result = parseQuantity(spell(feet, inches), 'length', {
            defaultUnit: null,
            decimal: 'either',
          });
          expect(result).toMatchObject({ ok: true, unit: 'ft' });
          // Metres by the inch of 25.4 mm (1959), counted in sixteenths.
          expect(result.ok && result.value).toBeCloseTo(
            ((feet * 192 + sixteenths) * 25.4) / 16000,
            9,
          );
        },
      ),
      { seed: 20264, numRuns: 1000 },
    );
  });

  it('a number means the same in every convention it is written in', () => {
    fc.assert(
      fc.property(hundredths(9_999_999_99), (value) => {
        const [whole = '0', part = '00'] = value.toFixed(2).split('.');
        const groups = (mark: string) => whole.replace(/\B(?=(\d{3})+$)/g, mark);
        const texts: readonly (readonly [string, 'dot' | 'comma'])[] = [
          [`${whole}.${part} m`, 'dot'],
          [`${groups(',')}.${part} m`, 'dot'],
          [`${whole},${part} m`, 'comma'],
          [`${groups('.')},${part} m`, 'comma'],
          [`${groups('\u202F')},${part} m`, 'comma'],
        ];
        for (const [text, mark] of texts) {
          for (const decimal of [mark, 'either'] as const) {
            const result = parseQuantity(text, 'length', { defaultUnit: null, decimal });
            expect(result.ok && result.value).toBe(value);
          }
        }
      }),
      { seed: 20265, numRuns: 1000 },
    );
  });

  it('sums equal arithmetic on metres', () => {
    const term = fc.tuple(hundredths(500_00), fc.constantFrom('ft', 'm', 'in', 'mm'));
    const metres: Readonly<Record<string, number>> = { ft: 0.3048, m: 1, in: 0.0254, mm: 0.001 };
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.constantFrom('+', '-'), term, fc.integer({ min: 1, max: 9 })), {
          minLength: 2,
          maxLength: 6,
        }),
        (parts) => {
          let expected = 0;
          let text = '=0 m';
          for (const [sign, [length, unit], count] of parts) {
            text += ` ${sign} ${count} × (${length} ${unit})`;
            expected += (sign === '-' ? -1 : 1) * count * length * (metres[unit] ?? Number.NaN);
          }
          const result = sums.parse(text, 'length', { defaultUnit: null, decimal: 'dot' });
          expect(result.ok && Math.abs(result.value - expected)).toBeLessThan(1e-9);
        },
      ),
      { seed: 20266, numRuns: 500 },
    );
  });

  it('numbers print and read back as numbers', () => {
    fc.assert(
      fc.property(fc.integer({ min: -1e8, max: 1e8 }), (thousandths) => {
        const value = thousandths / 1000;
        const text = formatNumber(value, 3);
        const again = parseQuantity(text, 'number', { defaultUnit: null, decimal: 'dot' });
        expect(again.ok && again.value).toBe(value + 0);
      }),
      { seed: 20267 },
    );
  });
});
