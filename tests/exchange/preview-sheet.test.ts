/** What the preview of a source sheet is told. Cases invented. */
import { describe, expect, it } from 'vitest';
import { noAnswers } from '../../src-shared/document/import-answers.ts';
import { previewSheets } from '../../src-shared/exchange/preview/preview-sheet.ts';
import type { ReadOptions } from '../../src-shared/exchange/read-schedule.ts';
import { answersFor, fileOf, readBook, sheetOf } from './build-workbook.ts';

const rows = [
  ['Job 12'],
  ['', '', 'Electrical', ''],
  ['Tag', 'Qty', 'Load W', 'Crate'],
  ['A-1', 1, '40 W max', 7],
  ['B', 3, 'tbc', null],
  ['Subtotal'],
  ['C-1', 1, 40, null],
];
const merges = [{ firstRow: 2, lastRow: 2, firstColumn: 2, lastColumn: 3 }];
const legend = sheetOf(
  [
    ['Type', 'W max'],
    ['T', 'many'],
  ],
  { name: 'Legend' },
);
const files = [
  fileOf('a.xlsx', sheetOf(rows, { merges, hiddenRows: [7] }), legend),
  fileOf(
    'b.xlsx',
    sheetOf([
      ['Tag', 'Run'],
      ['A-1', 'R"'],
      ['A-1', 'R'],
    ]),
  ),
];

function preview(options: ReadOptions = {}, from = files.slice(0, 1)) {
  const { source, fixtures } = readBook(from, options).project;
  if (source === null) throw new Error('no source');
  return previewSheets(from, source, fixtures);
}

describe('a previewed sheet', () => {
  const [sheet, other] = preview();

  it('names its columns as they were read', () => {
    expect(sheet).toMatchObject({ file: 0, sheet: 'Schedule', headerRow: 3, read: true });
    expect(sheet?.columns).toEqual([
      { column: 0, letters: 'A', header: 'Tag', columnId: 'tag' },
      { column: 1, letters: 'B', header: 'Qty', columnId: 'quantity' },
      { column: 2, letters: 'C', header: 'Electrical / Load W', columnId: 'load' },
      { column: 3, letters: 'D', header: 'Electrical / Crate', columnId: null },
    ]);
  });

  it('says of every row what became of it', () => {
    expect(sheet?.rows.map(({ row, outcome }) => [row, outcome.kind, outcome.text])).toEqual([
      [1, 'above', 'above the header'],
      [2, 'header', 'header'],
      [3, 'header', 'header'],
      [4, 'fixture', 'A-1'],
      [5, 'fixture', '3 fixtures, B-1 to B-3'],
      [6, 'skipped', 'subtotal'],
      [7, 'skipped', 'hidden'],
    ]);
    expect(sheet?.rows.map(({ hidden }) => hidden).at(-1)).toBe(true);
  });

  it('has the texts as they stand and the readings of each cell', () => {
    const row = sheet?.rows.find(({ row: number }) => number === 5);
    expect([...(row?.texts ?? [])]).toEqual([
      [0, 'B'],
      [1, '3'],
      [2, 'tbc'],
    ]);
    expect(row?.cells.get(2)).toMatchObject({
      confidence: 'refused',
      answered: false,
      accepted: false,
      offer: null,
    });
    expect(row?.cells.get(2)).not.toHaveProperty('text');
    expect(row?.cells.has(0)).toBe(false);
  });

  it('that is not the schedule is there to be chosen, with the readings of its cells', () => {
    expect(other).toMatchObject({ sheet: 'Legend', headerRow: null, read: false });
    expect(other?.rows[1]?.outcome.kind).toBe('not-read');
    expect(other?.rows[1]?.cells.get(1)?.confidence).toBe('refused');
  });
});

describe('answers in a preview', () => {
  it('show the text that is read, what stands in the file staying', () => {
    const [sheet] = preview({ answers: answersFor(['Schedule!C5', 'tbc', '45 W']) });
    const row = sheet?.rows.find(({ row: number }) => number === 5);
    expect(row?.texts.get(2)).toBe('tbc');
    expect(row?.cells.get(2)).toMatchObject({ answered: true, text: '45 W' });
    const blank = preview({ answers: answersFor(['Schedule!C5', 'tbc', null]) })[0];
    expect(blank?.rows[4]?.cells.get(2)).toMatchObject({ answered: true, text: '' });
  });

  it('that no longer fit are not shown as answered', () => {
    const [sheet] = preview({ answers: answersFor(['Schedule!C5', 'tbd', '45 W']) });
    expect(sheet?.rows[4]?.cells.get(2)).toMatchObject({ answered: false });
  });

  it('accepted: only when every reading of the cell is', () => {
    const one = { cell: 'Schedule!C5', column: 'load', raw: 'tbc' };
    const [sheet] = preview({ answers: { ...noAnswers, accepted: [one] } });
    expect(sheet?.rows[4]?.cells.get(2)?.accepted).toBe(true);
    const other = { ...one, column: 'span' };
    const [second] = preview({ answers: { ...noAnswers, accepted: [other] } });
    expect(second?.rows[4]?.cells.get(2)?.accepted).toBe(false);
  });
});

describe('several files', () => {
  it('stand behind each other, cells of the second found by their file', () => {
    const all = preview({ answers: answersFor(['[b.xlsx]Schedule!B2', 'R"', 'R1']) }, files);
    expect(all.map(({ file, sheet }) => [file, sheet])).toEqual([
      [0, 'Schedule'],
      [0, 'Legend'],
      [1, 'Schedule'],
    ]);
    expect(all[2]?.rows[1]?.cells.get(1)).toMatchObject({ answered: true, text: 'R1' });
    expect(all[2]?.rows.map(({ outcome }) => outcome.kind)).toEqual([
      'header',
      'fixture',
      'fixture',
    ]);
  });
});
