import { describe, expect, test } from 'vitest';
import { columnLetters, type SourceCell } from '../../src-shared/document/source-workbook.ts';
import { fixtureBytes, fixtureJson, shownGrid, workbookOf } from './fixture.ts';

// Every cell against what openpyxl read from the same file (NAME.xlsx.json, written by
// tests/files/workbook/make.py).

type Plain = string | number | boolean | null | { date: string } | { days: number };
interface ExpectedCell {
  value: Plain;
  error?: true;
  formula?: string | null;
  struckFont?: true;
  note?: string;
}
interface ExpectedSheet {
  name: string;
  hidden: boolean;
  hiddenRows: number[];
  merges: string[];
  cells: Record<string, ExpectedCell>;
}

const FILES = [
  'openpyxl-schedule.xlsx',
  'xlsxwriter-plain.xlsx',
  'xlsxwriter-inline.xlsx',
  'xlsxwriter-1904.xlsx',
  'xlsxwriter-formats.xlsx',
  'lo-schedule.xlsx',
  'lo.xlsx',
  'op1904.xlsx',
  'xw.xlsx',
];

/** openpyxl gives midnight with every date, and puts a time of day on day 0 of the 1904 system. */
function isoAsOurs(iso: string): string {
  return iso
    .replace(/T00:00:00$/, '')
    .replace(/^1904-01-01T/, '')
    .replace(/(\.\d{3})000$/, '$1');
}

function checkValue(cell: SourceCell, expected: ExpectedCell, at: string): void {
  const { value } = expected;
  if (value !== null && typeof value === 'object' && 'date' in value) {
    expect([cell.kind, cell.value], at).toEqual(['date', isoAsOurs(value.date)]);
  } else if (value !== null && typeof value === 'object') {
    expect(cell.kind, at).toBe('number');
    expect(Number(cell.value), at).toBeCloseTo(value.days, 6);
  } else if (value === null) {
    // A formula without result; one whose result is the text '' is null to openpyxl too.
    expect(cell.value === null || cell.value === '', at).toBe(true);
  } else if (cell.struckText !== undefined) {
    // openpyxl gives the whole text; ours is without what is struck.
    const words = (text: string) => text.split(/\s+/).sort();
    expect(words(`${cell.text} ${cell.struckText}`), at).toEqual(words(String(value)));
  } else {
    expect(cell.value, at).toBe(value);
    expect(cell.kind, at).toBe(
      expected.error ? 'error' : typeof value === 'string' ? 'text' : typeof value,
    );
  }
}

describe.each(FILES)('%s', (name) => {
  const workbook = workbookOf(fixtureBytes(name), name);
  const { sheets } = fixtureJson(`${name}.json`) as { sheets: ExpectedSheet[] };

  test('has the sheets, hidden rows and merged areas openpyxl found', () => {
    expect(workbook.sheets.map(({ name, hidden }) => ({ name, hidden }))).toEqual(
      sheets.map(({ name, hidden }) => ({ name, hidden })),
    );
    for (const [place, sheet] of workbook.sheets.entries()) {
      const expected = sheets[place];
      const filled = new Set(sheet.rows.map((row) => row.number));
      const hidden = sheet.rows.filter((row) => row.hidden).map((row) => row.number);
      expect(hidden).toEqual(expected?.hiddenRows.filter((number) => filled.has(number)));
      const merges = sheet.merges.map((area) => {
        const from = columnLetters(area.firstColumn) + area.firstRow;
        return `${from}:${columnLetters(area.lastColumn)}${area.lastRow}`;
      });
      expect(merges.sort()).toEqual(expected?.merges);
    }
  });

  test('has the values, formulas, notes and strikes openpyxl found, and no others', () => {
    let compared = 0;
    for (const [place, sheet] of workbook.sheets.entries()) {
      const expected = new Map(Object.entries(sheets[place]?.cells ?? {}));
      for (const row of sheet.rows) {
        for (const cell of row.cells) {
          const reference = columnLetters(cell.column) + row.number;
          const at = `${sheet.name}!${reference}`;
          const wanted = expected.get(reference);
          if (!wanted) {
            expect(cell, `${at} is only there for its note`).toMatchObject({ text: '', note: /./ });
            continue;
          }
          expected.delete(reference);
          checkValue(cell, wanted, at);
          expect(cell.formula !== undefined, at).toBe('formula' in wanted);
          if (typeof wanted.formula === 'string') expect(cell.formula, at).toBe(wanted.formula);
          expect(cell.note, at).toBe(wanted.note?.trim());
          if (wanted.struckFont) expect(cell.struck, at).toBe(true);
          compared++;
        }
      }
      expect([...expected.keys()], `cells of ${sheet.name} not read`).toEqual([]);
    }
    expect(compared).toBeGreaterThan(20);
  });
});

test('shows numbers and dates under their formats as LibreOffice does', () => {
  const name = 'xlsxwriter-formats.xlsx';
  const { rows } = fixtureJson(`${name}.shown.json`) as { rows: string[][] };
  const grid = shownGrid(workbookOf(fixtureBytes(name), name).sheets[0]);
  const tidy = (row: string[]) =>
    row
      .map((text) => text.trim())
      .join('|')
      .replace(/\|+$/, '');
  expect(grid.map(tidy)).toEqual(rows.map(tidy));
});

test('a text whose every run is struck is struck, a partly struck one is not', () => {
  // Written by XlsxWriter's write_rich_string in make.py: row 4 partly, row 5 wholly struck.
  const [sheet] = workbookOf(fixtureBytes('xlsxwriter-plain.xlsx')).sheets;
  const note = (number: number) =>
    sheet?.rows.find((row) => row.number === number)?.cells.find((cell) => cell.column === 3);
  expect(note(4)).toMatchObject({ value: 'plain bold', struckText: 'gone' });
  expect(note(4)?.struck).toBeUndefined();
  expect(note(5)).toMatchObject({ value: 'all gone', struck: true });
});

test('remarks tell what the grid cannot', () => {
  const remarks = (name: string) => workbookOf(fixtureBytes(name), name).remarks.join('\n');
  expect(remarks('xlsxwriter-plain.xlsx')).toMatch(/hidden columns.*: I\./);
  expect(remarks('xlsxwriter-plain.xlsx')).toMatch(/calculated anew/);
  expect(remarks('openpyxl-schedule.xlsx')).toMatch(/2 formulas without a kept result/);
  expect(remarks('xw.xlsx')).toMatch(/Chart 1 holds no cells/);
});
