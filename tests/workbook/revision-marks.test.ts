import { describe, expect, test } from 'vitest';
import { tinted } from '../../src-main/workbook/colour-tint.ts';
import type { SourceCell, SourceSheet } from '../../src-shared/document/source-workbook.ts';
import { columnLetters } from '../../src-shared/document/source-workbook.ts';
import { fixtureBytes, fixtureJson, workbookOf } from './fixture.ts';
import { packageBytes, relationships } from './package-builder.ts';

// NAME.marks.json is what LibreOffice finds in NAME, written by tests/files/workbook/make-marks.py.

interface Run {
  readonly text: string;
  readonly colour: string;
  readonly struck: boolean;
}

interface MarkedSheet {
  readonly name: string;
  readonly hiddenColumns: readonly number[];
  readonly hiddenRows: Readonly<Record<string, 'filter' | 'collapse'>>;
  readonly cells: Readonly<Record<string, readonly Run[]>>;
}

const marksOf = (name: string) => fixtureJson(`${name}.marks.json`) as { sheets: MarkedSheet[] };

/** Cells of a sheet by their place. */
function cellsByPlace(sheet: SourceSheet | undefined): Map<string, SourceCell> {
  const cells = (sheet?.rows ?? []).flatMap((row) =>
    row.cells.map((cell) => [columnLetters(cell.column) + row.number, cell] as const),
  );
  return new Map(cells);
}

const joined = (runs: readonly Run[]) =>
  runs
    .map((run) => run.text)
    .join('')
    .replace(/\s+/g, ' ')
    .trim();

/** Largest difference of two colours in one channel, of 255. */
function distance(a: string, b: string): number {
  const channels = (rgb: string) =>
    [0, 2, 4].map((at) => Number.parseInt(rgb.slice(at, at + 2), 16));
  const other = channels(b);
  return Math.max(...channels(a).map((value, at) => Math.abs(value - (other[at] ?? 999))));
}

const BLACK_OR_WHITE = ['000000', 'FFFFFF'];

describe.each(['openpyxl-marks.xlsx', 'xlsxwriter-marks.xlsx'])('%s', (name) => {
  const workbook = workbookOf(fixtureBytes(name), name);
  const { sheets } = marksOf(name);

  test('has the colours and the struck text LibreOffice finds', () => {
    let coloured = 0;
    let struck = 0;
    for (const marked of sheets) {
      const cells = cellsByPlace(workbook.sheets.find((sheet) => sheet.name === marked.name));
      expect([...cells.keys()].sort()).toEqual(Object.keys(marked.cells).sort());
      for (const [place, runs] of Object.entries(marked.cells)) {
        const cell = cells.get(place);
        if (!cell) continue;
        const kept = runs.filter((run) => !run.struck);
        const isAll = kept.length === 0;
        expect(cell.struck === true, place).toBe(isAll);
        const part = runs.filter((run) => run.struck && !isAll);
        const text = cell.text.replace(/\s+/g, ' ').trim();
        expect(text, place).toBe(joined(isAll ? runs : kept));
        // Ours has a blank between struck pieces that stand apart.
        const struckText = cell.struckText?.replaceAll(' ', '');
        const wanted = part.length === 0 ? undefined : joined(part).replaceAll(' ', '');
        expect(struckText, place).toBe(wanted);
        struck += part.length;
        const shown = (isAll ? runs : kept).map((run) => run.colour);
        const [colour] = shown.filter((rgb) => !BLACK_OR_WHITE.includes(rgb));
        expect(cell.colour !== undefined, `${place} ${shown} ${cell.colour}`).toBe(
          colour !== undefined,
        );
        if (colour === undefined) continue;
        // Tints are rounded differently.
        expect(
          distance(cell.colour ?? '', colour),
          `${place} ${cell.colour} ${colour}`,
        ).toBeLessThan(3);
        coloured++;
      }
    }
    expect(coloured).toBeGreaterThan(7);
    if (name.startsWith('xlsxwriter')) expect(struck).toBeGreaterThan(2);
  });

  test('has the hidden columns and rows LibreOffice finds, told apart by filter and by hand', () => {
    for (const marked of sheets) {
      const sheet = workbook.sheets.find((one) => one.name === marked.name);
      expect(sheet?.hiddenColumns ?? []).toEqual(marked.hiddenColumns);
      const hidden = (sheet?.rows ?? []).filter((row) => row.hidden);
      expect(hidden.map((row) => String(row.number))).toEqual(Object.keys(marked.hiddenRows));
      // A filter without a criterion hides nothing, whatever LibreOffice calls it.
      const isSet = marked.name !== 'By hand';
      for (const row of hidden) {
        const byFilter = isSet && marked.hiddenRows[row.number] === 'filter';
        expect(row.filtered === true, `${marked.name} row ${row.number}`).toBe(byFilter);
      }
    }
  });
});

test('a text struck in part gives what is left, and what is struck', () => {
  const cells = cellsByPlace(workbookOf(fixtureBytes('xlsxwriter-marks.xlsx')).sheets[0]);
  expect(cells.get('D2')).toMatchObject({ value: '15 W', struckText: '12 W', colour: 'C00000' });
  expect(cells.get('D3')).toMatchObject({ text: 'was now 4000 K', struckText: '3000 K' });
  expect(cells.get('D4')).toMatchObject({ value: 'DB-7', struckText: 'A-1 -2' });
  expect(cells.get('D4')?.colour).toBeUndefined();
  expect(cells.get('D7')).toMatchObject({ value: 'wholly gone', struck: true, colour: 'C00000' });
  expect(cells.get('D6')).toMatchObject({ value: 'in red', struckText: 'tail', colour: 'C00000' });
});

test('tints: ECMA-376 part 1, 18.3.1.15 (lighter by L(1−t)+t, darker by L(1+t))', () => {
  // By hand from the two formulas; grey has no hue, so only lightness moves.
  expect(tinted('808080', -0.5)).toBe('404040');
  expect(tinted('808080', 0.5)).toBe('C0C0C0');
  // Pure red has L = 0.5: halved it is 0.25, that is 80 00 00; lightened by half 0.75, FF 80 80.
  expect(tinted('FF0000', -0.5)).toBe('800000');
  expect(tinted('FF0000', 0.5)).toBe('FF8080');
  expect(tinted('4f81bd', 0)).toBe('4F81BD');
  expect(tinted('4F81BD', 7)).toBe('4F81BD');
  for (const rgb of ['4F81BD', '123456', 'FEDCBA', '00FF7F']) {
    expect(tinted(rgb, 1)).toBe('FFFFFF');
    expect(tinted(rgb, -1)).toBe('000000');
    expect(distance(tinted(rgb, 1e-9), rgb)).toBe(0);
  }
});

const hand = (after: string, rows: string, parts = {}) =>
  workbookOf(packageBytes({ rows, after, parts })).sheets[0]?.rows.map((row) => [
    row.number,
    row.hidden,
    row.filtered ?? false,
  ]);
const four = [1, 2, 3, 4]
  .map((n) => `<row r="${n}"${n > 2 ? ' hidden="1"' : ''}><c r="B${n}"><v>${n}</v></c></row>`)
  .join('');

describe('filters (ECMA-376 part 1, 18.3.2.7 filterColumn; 18.5.1.2 table)', () => {
  const filtered = [
    [1, false, false],
    [2, false, false],
    [3, true, true],
    [4, true, false],
  ];
  const plain = filtered.map(([number, hidden]) => [number, hidden, false]);
  const criterion = '<filterColumn colId="0"><filters><filter val="2"/></filters></filterColumn>';

  test('of the sheet', () => {
    expect(hand(`<autoFilter ref="B1:B3">${criterion}</autoFilter>`, four)).toEqual(filtered);
    expect(hand('<autoFilter ref="B1:B3"/>', four)).toEqual(plain);
    const button = '<filterColumn colId="0" hiddenButton="1"/>';
    expect(hand(`<autoFilter ref="B1:B3">${button}</autoFilter>`, four)).toEqual(plain);
  });

  test('of a table', () => {
    const table = (inside: string) => ({
      'xl/worksheets/_rels/sheet1.xml.rels': relationships({ rId1: ['table', '../tables/t.xml'] }),
      'xl/tables/t.xml': `<table ref="B1:B3"><autoFilter ref="B1:B3">${inside}</autoFilter></table>`,
    });
    expect(hand('', four, table(criterion))).toEqual(filtered);
    expect(hand('', four, table(''))).toEqual(plain);
  });
});

test('the stand-in of a thread whose own part is lost: only what was said (common practice, no source)', () => {
  const standIn =
    '[Threaded comment]\n\nYour version allows you to read this; edits are removed.\n\nComment:\n    Is 5 right?\nReply:\n    Yes, see D-2';
  const bytes = packageBytes({
    rows: '<row r="1"><c r="A1"><v>5</v></c></row>',
    parts: {
      'xl/worksheets/_rels/sheet1.xml.rels': relationships({ rId1: ['comments', '/xl/c.xml'] }),
      'xl/c.xml': `<comments><authors><author>tc={1}</author></authors><commentList><comment ref="A1" authorId="0"><text><t>${standIn}</t></text></comment></commentList></comments>`,
    },
  });
  const [cell] = workbookOf(bytes).sheets[0]?.rows[0]?.cells ?? [];
  expect(cell?.note).toBe('Is 5 right?\nYes, see D-2');
});
