import fc from 'fast-check';
import { all, type BigNumber, create } from 'mathjs';
import { describe, expect, it } from 'vitest';
import {
  formatAmps,
  formatLength,
  formatLengthNumber,
  formatMilliamps,
  formatNumber,
  formatPercent,
  formatTrimmed,
  formatVolts,
  formatWatts,
  roundDecimal,
} from '../../src-shared/units/format-quantity.ts';
import { metresFromFeet } from '../../src-shared/units/length.ts';

if (all === undefined) throw new Error('mathjs has no factories');
const big = create(all, { number: 'BigNumber', precision: 64 });

describe('formatting', () => {
  it('prints every whole and half foot as typed after going through metres', () => {
    for (let half = 0; half <= 20_000; half += 1) {
      const feet = half / 2;
      expect(formatLength(metresFromFeet(feet), 'ft')).toBe(`${feet} ft`);
    }
  });

  it('prints hundredths of a foot and of a metre as typed', () => {
    for (let hundredths = 0; hundredths <= 20_000; hundredths += 1) {
      const typed = String(hundredths / 100);
      expect(formatLengthNumber(metresFromFeet(Number(typed)), 'ft')).toBe(typed);
      expect(formatLengthNumber(Number(typed), 'm')).toBe(typed);
    }
  });

  it.each([
    [formatLength(65.8368, 'ft'), '216 ft'],
    [formatLength(3.81, 'ft'), '12.5 ft'],
    [formatLength(3.6576, 'm'), '3.66 m'],
    [formatLength(3.6576, 'm', 4), '3.6576 m'],
    [formatLength(0, 'ft'), '0 ft'],
    [formatLength(null, 'ft'), ''],
    [formatNumber(7.5, 2), '7.50'],
    [formatNumber(-0.001, 2), '0.00'],
    [formatNumber(-0, 0), '0'],
    [formatNumber(1.005, 2), '1.01'],
    [formatNumber(-1.005, 2), '-1.01'],
    [formatNumber(100, 0), '100'],
    [formatNumber(1e-9, 3), '0.000'],
    [formatNumber(1234567.891, 1), '1234567.9'],
    [formatNumber(null, 2), ''],
    [formatNumber(Number.NaN, 2), ''],
    [formatNumber(Number.POSITIVE_INFINITY, 2), ''],
    [formatTrimmed(100, 2), '100'],
    [formatTrimmed(0.5, 0), '1'],
    [formatVolts(207.16), '207.2 V'],
    [formatVolts(277, 0), '277 V'],
    [formatAmps(10), '10.0 A'],
    [formatAmps(null), ''],
    [formatMilliamps(0.75), '0.75 mA'],
    [formatWatts(87), '87 W'],
    [formatPercent(3.24), '3.2 %'],
  ])('%s', (text, expected) => {
    expect(text).toBe(expected);
  });

  it('rounds half away from zero in decimal, as arbitrary-precision arithmetic does', () => {
    // Oracle: mathjs BigNumber (decimal.js) on the decimal digits; its round is half away from zero.
    fc.assert(
      fc.property(
        fc.integer({ min: -1e9, max: 1e9 }),
        fc.integer({ min: 0, max: 6 }),
        fc.integer({ min: 0, max: 6 }),
        (digits, shift, decimals) => {
          const value = digits / 10 ** shift;
          const exact = big.divide(big.bignumber(digits), big.bignumber(10 ** shift)) as BigNumber;
          const expected = Number(big.round(exact, decimals).toString());
          expect(roundDecimal(value, decimals)).toBe(expected === 0 ? 0 : expected);
        },
      ),
      { seed: 754, numRuns: 2000 },
    );
  });

  it('gives plain decimal digits for any number of ordinary size', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e15, max: 1e15, noNaN: true }),
        fc.integer({ min: 0, max: 6 }),
        (value, decimals) => {
          const text = formatNumber(value, decimals);
          expect(text).toMatch(decimals === 0 ? /^-?\d+$/ : /^-?\d+\.\d+$/);
          expect(text).not.toMatch(/^-0(\.0*)?$/);
          expect(Math.abs(Number(text) - value)).toBeLessThanOrEqual(
            0.5000001 * 10 ** -decimals + Math.abs(value) * 1e-11,
          );
        },
      ),
      { seed: 754 },
    );
  });
});
