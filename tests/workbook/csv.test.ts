import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { guardCsvText, unguardCsvText } from '../../src-main/workbook/csv-guard.ts';
import { tellSeparator } from '../../src-main/workbook/csv-separator.ts';
import { fixtureBytes, fixtureJson, shownGrid, workbookOf } from './fixture.ts';

const csv = (text: string, name = 'plan.csv') => workbookOf(new TextEncoder().encode(text), name);

/** Trailing empty cells and rows are not told apart from missing ones. */
function trimmed(rows: readonly (readonly string[])[]): string[][] {
  return rows.map((row) => {
    const copy = [...row];
    while (copy.at(-1) === '') copy.pop();
    return copy;
  });
}

describe.each([
  'comma-utf8.csv',
  'comma-utf8-mark.csv',
  'semicolon-1252.csv',
  'tab-utf16.csv',
  'comma-cr.csv',
])('%s', (name) => {
  test("has the cells Python's csv module found", () => {
    // NAME.csv.json, written by tests/files/workbook/make.py.
    const { rows } = fixtureJson(`${name}.json`) as { rows: string[][] };
    const workbook = workbookOf(fixtureBytes(name), name);
    expect(workbook.kind).toBe('csv');
    expect(workbook.sheets[0]?.name).toBe(name.replace('.csv', ''));
    expect(shownGrid(workbook.sheets[0])).toEqual(trimmed(rows));
    expect(workbook.remarks.join()).toMatch(name.includes('1252') ? /windows-1252/ : /^$/);
  });
});

test('values stay text, signs and leading zeros included', () => {
  const cells = csv('007,1.50,-5,TRUE\n').sheets[0]?.rows[0]?.cells;
  expect(cells?.map(({ kind, value }) => [kind, value])).toEqual([
    ['text', '007'],
    ['text', '1.50'],
    ['text', '-5'],
    ['text', 'TRUE'],
  ]);
});

test('windows-1252 has dashes, quotes and the euro where Latin-1 has control signs (Python codec cp1252)', () => {
  // '€…‘’“”•–—™Ÿ'.encode('cp1252')
  const upper = [0x80, 0x85, 0x91, 0x92, 0x93, 0x94, 0x95, 0x96, 0x97, 0x99, 0x9f];
  const bytes = Uint8Array.from([0x41, 0x2c, ...upper, 0x0a]);
  expect(shownGrid(workbookOf(bytes, 'plan.csv').sheets[0])).toEqual([['A', '€…‘’“”•–—™Ÿ']]);
});

test('inch marks outside of quoted cells are plain text (common practice, no source)', () => {
  expect(shownGrid(csv('Tag,Length\nA1,12\'-6"\nA2,6"\n').sheets[0])).toEqual([
    ['Tag', 'Length'],
    ['A1', '12\'-6"'],
    ['A2', '6"'],
  ]);
});

test('blank lines keep their number, uneven rows are taken as they are', () => {
  const rows = csv('Title\n\nTag,W\nA1,87,extra\r\n').sheets[0]?.rows;
  expect(rows?.map((row) => [row.number, row.cells.length])).toEqual([
    [1, 1],
    [3, 2],
    [4, 3],
  ]);
});

test('rows of nothing but separators and blanks are none', () => {
  const rows = csv('Tag,Load W\n,,\n \t,\u00a0\nA1,87\n  \n\u200b,\nB1,\n').sheets[0]?.rows;
  expect(rows?.map((row) => row.number)).toEqual([1, 4, 7]);
});

test('a csv file named .xlsx and a workbook named .csv are read, and said to be', () => {
  expect(csv('a,b\n1,2\n', 'plan.xlsx').remarks.join()).toMatch(
    /named \.xlsx but holds plain text/,
  );
  const workbook = workbookOf(fixtureBytes('lo.xlsx'), 'lo.csv');
  expect(workbook.kind).toBe('xlsx');
  expect(workbook.remarks[0]).toMatch(/named \.csv but holds an \.xlsx/);
});

test.each([
  ['a;b\n1,5;2,5\n3,5;4,5\n', ';'],
  ['Title, with a comma\n\nTag;W;Note\nA;1,5;x, y\nB;2,5;z\n', ';'],
  ['a,b,c\n1,"2;3;4",5\n6,7;8,9\n', ','],
  ['a\tb\n1,5\t2;5\n', '\t'],
  ['Tag\nA1\n', ','],
  // The table decides, not the lines above it.
  ['Project: X; rev B, phase 2\nIssued; 2031\nTag,Type,Load W\nA,T,10\n', ','],
  ['Project: X, rev B; phase 2\nIssued, 2031\n\nTag;Type;Load W\nA;T;1,5\nB;T;2,5\n', ';'],
  [`${'Note; with\n'.repeat(30)}Tag,Type,Run\nA,T,R\n`, ','],
  ['Tag\tType, short\tRun; spare\nA\tT,x\tR;1\n', '\t'],
  ['Leuchte;Strang;Abstand\nA;R;1,5\n', ';'],
])('tells the separator of %j', (text, separator) => {
  expect(tellSeparator(text)).toBe(separator);
});

test('a first line sep= decides', () => {
  expect(shownGrid(csv('sep=;\r\na,b;c\r\n').sheets[0])).toEqual([['a,b', 'c']]);
});

test('the guard against formulas is undone exactly', () => {
  const text = fc.oneof(
    fc.string(),
    fc
      .tuple(
        fc.constantFrom('', "'", "''"),
        fc.constantFrom('=', '+', '-', '@', '\t', '\r'),
        fc.string(),
      )
      .map((parts) => parts.join('')),
  );
  fc.assert(
    fc.property(text, (given) => {
      const guarded = guardCsvText(given);
      expect(unguardCsvText(guarded)).toBe(given);
      // OWASP, "CSV Injection": cells must not begin with = + - @, tab or return.
      expect(guarded).not.toMatch(/^[=+\-@\t\r]/);
    }),
    { numRuns: 500, seed: 7 },
  );
});

test('what RFC 4180 quoting writes is read back', () => {
  const cell = fc.string({
    unit: fc.constantFrom('a', ',', ';', '"', '\n', '\r', '\t', "'", '=', '3', ' ', 'µ'),
  });
  const table = fc.array(fc.array(cell, { minLength: 3, maxLength: 3 }), {
    minLength: 3,
    maxLength: 6,
  });
  fc.assert(
    fc.property(table, fc.constantFrom(',', ';', '\t'), (rows, separator) => {
      // RFC 4180, 2.5 to 2.7: every cell quoted, quotes doubled. `sep=` keeps the choice out of it.
      const quoted = rows.map((row) =>
        row.map((text) => `"${guardCsvText(text).replaceAll('"', '""')}"`),
      );
      const text = `sep=${separator}\r\n${quoted.map((row) => row.join(separator)).join('\r\n')}\r\n`;
      const read = shownGrid(csv(text).sheets[0]);
      // A row of nothing but blanks is none.
      const wanted = trimmed(rows).map((row) => (row.every((t) => t.trim() === '') ? [] : row));
      expect(rows.map((_, at) => read[at] ?? [])).toEqual(wanted);
    }),
    { numRuns: 300, seed: 4180 },
  );
});
