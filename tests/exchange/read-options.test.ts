/** Options of the import, answers, and our own columns coming back. Rules: the check command's contract. */
import { describe, expect, it } from 'vitest';
import { type ReadOptions, readSchedule } from '../../src-shared/exchange/read-schedule.ts';
import {
  answersFor,
  columnIds,
  readBook,
  readingAt,
  readRowsOf,
  sheetOf,
  workbookOf,
} from './build-workbook.ts';

const rows = [
  ['Tag', 'Type', 'Run', 'Place', 'Gap', 'Span'],
  ['A', 'T', 'R', 1, '3 m', '7 m'],
  ['B', 'T', 'R', 2, '4 m', 'x'],
];
const book = workbookOf(
  sheetOf(rows),
  sheetOf(
    [
      ['Tag', 'Type'],
      ['Z', 'T'],
    ],
    { name: 'Other' },
  ),
);

describe('options', () => {
  it('a sheet, blind to case', () => {
    expect(readBook(book, { sheet: 'other' }).project.fixtures.map((f) => f.tag)).toEqual(['Z']);
  });

  it('a map of headers, to a column or to none', () => {
    const map = new Map([
      ['Gap', 'span'],
      ['Type', ''],
    ]);
    const { project } = readBook(book, { map });
    expect(columnIds(project)).toEqual({
      Tag: 'tag',
      Type: null,
      Run: 'run',
      Place: 'place',
      Gap: 'span',
      Span: null,
    });
    expect(project.fixtures.map((f) => [f.spanM, f.type])).toEqual([
      [3, null],
      [4, null],
    ]);
  });

  it('a map makes a header row of words unknown to us', () => {
    const odd = workbookOf(
      sheetOf([
        ['Leuchte', 'Strang'],
        ['A', 'R'],
      ]),
    );
    const map = new Map([
      ['Leuchte', 'tag'],
      ['Strang', 'run'],
    ]);
    expect(readBook(odd, { map }).project.fixtures).toMatchObject([{ tag: 'A', run: 'R' }]);
  });

  it.each<[string, ReadOptions, string]>([
    ['an unknown sheet', { sheet: 'None' }, '--sheet None'],
    ['an empty header row', { headerRow: 90 }, '--header-row 90'],
    ['no row number', { headerRow: 0 }, '--header-row 0'],
    ['an unknown column', { map: new Map([['Gap', 'gap']]) }, '--map Gap=gap'],
    ['a map to a solved column', { map: new Map([['Gap', 'drop']]) }, '--map Gap=drop'],
    ['a header that is not there', { map: new Map([['Gapp', 'span']]) }, '--map Gapp=span'],
    [
      'one column twice',
      {
        map: new Map([
          ['Gap', 'span'],
          ['Span', 'span'],
        ]),
      },
      '--map Span=span',
    ],
    [
      'the tag column twice',
      {
        map: new Map([
          ['Tag', 'run'],
          ['Run', 'run'],
        ]),
      },
      '--map Run=run',
    ],
  ])('%s is a bad option', (_, options, where) => {
    const result = readSchedule(book, options);
    expect(result).toMatchObject({ ok: false, refusal: { code: 'bad-option', where } });
    if (!result.ok)
      expect(result.refusal.what.length * result.refusal.todo.length).toBeGreaterThan(0);
  });

  it('a header row without tag is no schedule, told in words that fit the window too', () => {
    const result = readSchedule(book, { sheet: 'Schedule', headerRow: 2 });
    expect(result).toMatchObject({ ok: false, refusal: { code: 'no-schedule' } });
    if (!result.ok) expect(JSON.stringify(result.refusal)).not.toContain('--');
  });

  it('only the place of a bad option names the option', () => {
    const wrong: ReadOptions[] = [{ headerRow: 90 }, { map: new Map([['Gapp', 'span']]) }];
    for (const options of wrong) {
      const result = readSchedule(book, options);
      if (result.ok) throw new Error('not refused');
      expect(`${result.refusal.what} ${result.refusal.todo}`).not.toContain('--');
    }
  });

  it('a row of a csv file with more values than headers is told: 1,000 unquoted moves those behind it', () => {
    const rows = (...more: string[][]) =>
      sheetOf([['Tag', 'Span ft', 'Load W'], ['A', '5', '20'], ['B', '5', '20'], ...more]);
    const file = (kind: 'csv' | 'xlsx', ...more: string[][]) =>
      readBook({ ...workbookOf(rows(...more)), kind }).project;
    const moved = ['C', '1', '000', '20'];
    expect(readingAt(file('csv', moved), 'Schedule!D4')).toMatchObject({
      raw: '20',
      confidence: 'guess',
    });
    expect(readingAt(file('csv'), 'Schedule!D4')).toBeUndefined();
    expect(readingAt(file('xlsx', moved), 'Schedule!D4')).toBeUndefined();
  });

  it('what the reader remarks on the file is told last', () => {
    const remark = 'The file is not UTF-8; it was read as windows-1252.';
    const { project } = readBook({ ...book, remarks: [remark] });
    expect(project.source?.readings.at(-1)).toEqual({
      cell: book.fileName,
      raw: '',
      column: null,
      value: null,
      confidence: 'likely',
      note: remark,
    });
  });
});

describe('answers', () => {
  it('replace a cell’s text and show what stood there', () => {
    const { project } = readBook(book, { answers: answersFor(['Schedule!F3', 'x', '5 m']) });
    expect(project.fixtures[1]?.spanM).toBe(5);
    expect(readingAt(project, 'Schedule!F3')).toMatchObject({ raw: 'x', confidence: 'sure' });
    expect(project.fixtures[1]?.origin?.cells[5]).toBe('x');
  });

  it('leave a cell blank', () => {
    const { project } = readBook(book, { answers: answersFor(['Schedule!F2', '7 m', null]) });
    expect(project.fixtures[0]?.spanM).toBeNull();
    expect(readingAt(project, 'Schedule!F2')).toMatchObject({ raw: '7 m', value: null });
  });

  it('fill a blank cell of a row', () => {
    const { project } = readBook(book, { answers: answersFor(['Schedule!G3', '', 'z']) });
    expect(columnIds(project)).toHaveProperty('Column G');
  });

  it('that cannot be read either say so with the first text', () => {
    const { project } = readBook(book, { answers: answersFor(['Schedule!F3', 'x', 'y']) });
    expect(readingAt(project, 'Schedule!F3')).toMatchObject({
      raw: 'x',
      value: null,
      confidence: 'refused',
    });
  });

  it('reach the other sheets', () => {
    const types = sheetOf(
      [
        ['Type', 'W max', 'pf'],
        ['T', 'lots', 0.9],
      ],
      { name: 'My types' },
    );
    const { project } = readBook(workbookOf(sheetOf(rows), types), {
      answers: answersFor(["'My types'!B2", 'lots', '87']),
    });
    expect(project.types[0]?.loadW).toBe(87);
  });
});

describe('our own columns', () => {
  const header = [
    'Tag',
    'Run',
    'Place',
    'Drop',
    'Volts here (V)',
    'Cumulative current (A)',
    'Findings',
    'Locks',
    'Runledger id',
  ];

  it('come back as ids and locks, the solved ones are not read', () => {
    const project = readRowsOf([
      header,
      ['A', 'R', 1, 1.2, 208, 3, 'W', 'Universe, Start address; run: Home run', 'f7'],
      ['B', 'R', 2, 1.3, 207, 4, null, 'place', '__proto__'],
      ['C', 'R', 3, null, null, null, null, null, null],
    ]);
    expect(columnIds(project)).toEqual({ Tag: 'tag', Run: 'run', Place: 'place' });
    expect(project.fixtures.map((f) => [f.id, f.locks])).toEqual([
      ['f7', ['universe', 'address']],
      ['__proto__', ['place']],
      ['f8', []],
    ]);
    expect(project.runs[0]?.locks).toEqual(['homeRun']);
    expect(project.fixtures[0]?.origin?.cells).toEqual(['A', 'R', 1]);
  });

  it('an id that stands twice holds for the first row', () => {
    const project = readRowsOf([
      header,
      ['A', 'R', 1, null, null, null, null, null, 'f1'],
      ['B', 'R', 2, null, null, null, null, null, 'f1'],
    ]);
    expect(project.fixtures.map((f) => f.id)).toEqual(['f1', 'f2']);
    expect(readingAt(project, 'Schedule!I3')?.value).toBe('f2');
  });

  it('an unknown lock is told', () => {
    const project = readRowsOf([header, ['A', 'R', 1, null, null, null, null, 'colour', 'f1']]);
    expect(project.fixtures[0]?.locks).toEqual([]);
    expect(readingAt(project, 'Schedule!H2')?.confidence).toBe('refused');
  });

  it('without our id a title of the same name is the engineer’s', () => {
    const project = readRowsOf([
      ['Tag', 'Run', 'Drop'],
      ['A', 'R', 'kerb'],
    ]);
    expect(columnIds(project)).toEqual({ Tag: 'tag', Run: 'run', Drop: null });
  });
});
