import { beforeAll, describe, expect, test } from 'vitest';
import { loadSums, readCellText } from '../../src-renderer/state/parse-cell.ts';

const value = (
  text: string,
  column: Parameters<typeof readCellText>[1],
  unit: 'ft' | 'm' = 'ft',
) => {
  const read = readCellText(text, column, unit);
  if (read === 'later' || !read.ok) throw new Error(read === 'later' ? 'later' : read.reason);
  return read.value;
};
const refusal = (text: string, column: Parameters<typeof readCellText>[1]) => {
  const read = readCellText(text, column, 'ft');
  return read === 'later' || read.ok ? null : read.reason;
};

test('a sum waits for the arithmetic instead of being guessed', () => {
  expect(readCellText('10 ft + 5 ft', 'span', 'ft')).toBe('later');
  expect(value('12 ft', 'span')).toBe(3.6576);
});

describe('what is typed into a cell', () => {
  beforeAll(loadSums);

  // Feet and inches by NIST SP 811: 1 ft = 0.3048 m, 1 in = 0.0254 m, exact.
  test.each([
    ['16', 4.8768],
    ['16 ft', 4.8768],
    ['12\'-6"', 3.81],
    ['3.81 m', 3.81],
    ['3,81 m', 3.81],
    ['10 ft + 5 ft', 4.572],
  ])('span %s', (text, metres) => {
    expect(value(text, 'span')).toBeCloseTo(metres, 12);
  });

  test('a bare length is in the unit shown', () => {
    expect(value('4', 'span', 'm')).toBe(4);
    expect(value('4', 'span', 'ft')).toBeCloseTo(1.2192, 12);
  });

  test('what was understood is said back', () => {
    const read = readCellText('10 ft + 5 ft', 'span', 'ft');
    expect(read !== 'later' && read.ok && read.echo).toBe('15 ft = 4.572 m');
  });

  test('empty clears; words are words; an address pair is its start', () => {
    expect(value('  ', 'span')).toBe(null);
    expect(value(' 007 ', 'tag')).toBe('007');
    expect(value('66–70', 'address')).toBe(66);
    expect(value('163', 'address')).toBe(163);
    expect(value('1/4', 'unitLoad')).toBe(0.25);
    expect(value('0.75 mA', 'leakage')).toBe(0.75);
  });

  test.each([
    ['abc', 'span', /^Span not taken/],
    ['87 VA', 'load', /volt-amperes/],
    ['16 A', 'supply', /Supply not taken/],
    ['12', 'conductor', /AWG or mm²/],
    ['10 ft + 5', 'span', /not taken/],
  ] as const)('%s in %s is refused, with what to write', (text, column, reason) => {
    expect(refusal(text, column)).toMatch(reason);
  });
});
