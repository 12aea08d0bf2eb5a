/** Rows that stand for several, odd spellings, headers nobody knows. Rules: `trade.md` §2; cases invented. */
import { describe, expect, it } from 'vitest';
import { quantityInWords } from '../../src-shared/exchange/schedule/tag-range.ts';
import {
  type CellInput,
  columnIds,
  readBook,
  readingAt,
  readRowsOf,
  sheetOf,
  workbookOf,
} from './build-workbook.ts';

describe('the spacing of a quantity row', () => {
  const header = ['Location', 'Type', 'Qty', 'Spacing', 'Run', 'Lead-in m', 'Tag'];

  it('holds between its fixtures; the lead-in is that of the first', () => {
    const project = readRowsOf([header, ['Span 2 N', 'F3', 14, '@ 2.5 m c/c', 'R1', 4.2]]);
    expect(project.fixtures).toHaveLength(14);
    expect(new Set(project.fixtures.map(({ spanM }) => spanM))).toEqual(new Set([2.5]));
    expect(project.runs[0]?.leadInM).toBe(4.2);
    expect(readingAt(project, 'Schedule!D2')).toMatchObject({ value: 2.5, confidence: 'likely' });
  });

  it('is a guess for the lead-in where none is stated', () => {
    const project = readRowsOf([header, ['Span 2 N', 'F3', 14, '@ 2.5 m c/c', 'R1', null]]);
    expect(readingAt(project, 'Schedule!D2')).toMatchObject({ confidence: 'guess' });
    expect(readingAt(project, 'Schedule!D2')?.note).toContain('lead-in');
  });

  it('EQ is unknown, told', () => {
    const project = readRowsOf([header, ['Mast', 'F4', 4, 'EQ', 'R1', 6]]);
    expect(project.fixtures.map((f) => [f.spanM, f.unread])).toEqual(
      Array(4).fill([null, ['span']]),
    );
    expect(readingAt(project, 'Schedule!D2')?.confidence).toBe('refused');
  });

  it.each([
    ['@ 2500 c/c', 2.5],
    ['2500 crs', 2.5],
    ['@ 2.5 m c/c', 2.5],
    ['2.5 m centres', 2.5],
    ['@ 1,8 m c/c', 1.8],
  ])('%s', (text, spanM) => {
    const rows = [header, ['N', 'F3', 2, text, 'R1', 3], ['S', 'F3', 1, '4 m', 'R2', 3]];
    expect(readRowsOf(rows).fixtures[0]?.spanM).toBe(spanM);
  });

  it('of one fixture is no spacing', () => {
    const project = readRowsOf([header, ['Plaque', 'F6', 1, '2 m', 'R1', 1]]);
    expect(readingAt(project, 'Schedule!D2')).toBeUndefined();
  });
});

describe('a quantity behind a name', () => {
  it.each([
    ['W5 (qty 2)', 'W5', 2],
    ['W5 (Qty: 12)', 'W5', 12],
    ['W5 (x2)', 'W5', 2],
    ['W5 (2 off)', 'W5', 2],
    ['W5 [3 No.]', 'W5', 3],
  ])('%s', (text, name, count) => expect(quantityInWords(text)).toEqual({ name, count }));

  it.each(['W5', 'W5 (2)', 'W5 (wet)', '(qty 2)', 'W5 (qty 0)'])('%s is none', (text) => {
    expect(quantityInWords(text)).toBeNull();
  });

  it('makes that many fixtures, told', () => {
    const project = readRowsOf([
      ['Tag', 'Type', 'Run'],
      ['B-1', 'W5 (qty 2)', 'R'],
    ]);
    expect(project.fixtures.map(({ type }) => type)).toEqual(['W5', 'W5']);
    expect(readingAt(project, 'Schedule!B2')?.note).toContain('W5, 2 fixtures');
  });

  it('gives way to a quantity column', () => {
    const project = readRowsOf([
      ['Tag', 'Type', 'Qty'],
      ['B-1', 'W5 (qty 2)', 3],
    ]);
    expect(project.fixtures).toHaveLength(3);
  });
});

describe('pieces in one cell', () => {
  it.each([
    ["2 x 8'", 4.8768],
    ["8'+15'", 7.0104],
    ['2×2,5 m', 5],
  ])('%s are added up, told', (text, metres) => {
    const project = readRowsOf([
      ['Tag', 'Installed length'],
      ['A-1', text],
    ]);
    expect(project.fixtures[0]?.installedM).toBeCloseTo(metres, 12);
    expect(readingAt(project, 'Schedule!B2')?.confidence).toBe('likely');
  });

  it('need a unit each', () => {
    const project = readRowsOf([
      ['Tag', 'Installed length'],
      ['A-1', '2 x 8'],
    ]);
    expect(project.fixtures[0]).toMatchObject({ installedM: null, unread: ['installed'] });
  });
});

describe('types of the legend', () => {
  const legend = sheetOf(
    [
      ['Type', 'W max'],
      ['F3', 56],
      ['F3A', 58],
    ],
    { name: 'Legend' },
  );
  const read = (type: CellInput) =>
    readBook(
      workbookOf(
        sheetOf([
          ['Tag', 'Type', 'Run'],
          ['A-1', type, 'R'],
        ]),
        legend,
      ),
    ).project;

  it('near but not the same are offered, never taken', () => {
    const project = read('F3B');
    expect(project.fixtures[0]?.type).toBe('F3B');
    expect(readingAt(project, 'Schedule!B2')).toMatchObject({ value: 'F3B', confidence: 'guess' });
    expect(readingAt(project, 'Schedule!B2')).toHaveProperty('offer');
  });

  it('in other capitals are taken, told', () => {
    const project = read('f3a');
    expect(project.fixtures[0]?.type).toBe('F3A');
    expect(readingAt(project, 'Schedule!B2')).toMatchObject({ value: 'F3A', confidence: 'guess' });
  });

  it('of another number are not near', () => {
    expect(readingAt(read('F7'), 'Schedule!B2')?.note).toContain('is not in the legend');
    expect(readingAt(read('F7'), 'Schedule!B2')).not.toHaveProperty('offer');
  });

  it('of two that are near each keeps its own', () => {
    expect(read('F3A').fixtures[0]?.type).toBe('F3A');
    expect(read('F3').fixtures[0]?.type).toBe('F3');
    expect(readingAt(read('F3A'), 'Schedule!B2')).toBeUndefined();
  });
});

describe('headers', () => {
  it('String and Ltg Type are known', () => {
    const project = readRowsOf([
      ['Tag', 'Ltg Type', 'String', 'Pos'],
      ['A-1', 'T', 'S1', 1],
    ]);
    expect(columnIds(project)).toEqual({
      Tag: 'tag',
      'Ltg Type': 'type',
      String: 'run',
      Pos: 'place',
    });
  });

  const chain = (header: string) =>
    readRowsOf([
      ['Tag', header, 'Pos'],
      ...['A', 'A', 'A', 'B', 'B', 'B'].map((name, i) => [`X-${i}`, name, (i % 3) + 1]),
    ]);

  it('an unknown one over what looks like runs is told', () => {
    const project = chain('Daisy group');
    expect(project.fixtures[0]?.run).toBeNull();
    expect(readingAt(project, 'Schedule!B1')?.note).toContain('looks as if it held runs');
    expect(readingAt(chain('Zeile'), 'Schedule!B1')?.note).toContain('runs');
  });

  it('an unknown one over types of the legend is told', () => {
    const legend = sheetOf(
      [
        ['Type', 'W max'],
        ['F1', 5],
        ['F2', 6],
      ],
      { name: 'Legend' },
    );
    const rows = ['F1', 'F2', 'F1', 'F2', 'F1'].map((type, i) => [`X-${i}`, type, 'R', i + 1]);
    const sheet = sheetOf([['Tag', 'Gattung', 'Run', 'Pos'], ...rows]);
    const { project } = readBook(workbookOf(sheet, legend));
    expect(readingAt(project, 'Schedule!B1')?.note).toContain('looks as if it held types');
  });

  it('one over anything else is not', () => {
    const rows = [1, 2, 3, 4, 5, 6].map((n) => [`X-${n}`, `C-${n}`, n]);
    const project = readRowsOf([['Tag', 'Crate', 'Pos'], ...rows]);
    expect(readingAt(project, 'Schedule!B1')).toBeUndefined();
  });

  it('one over what looks like runs is not told beside a column of runs', () => {
    const rows = ['A', 'A', 'B', 'B'].map((name, i) => [`X-${i}`, name, name, (i % 2) + 1]);
    const project = readRowsOf([['Tag', 'Daisy group', 'Run', 'Pos'], ...rows]);
    expect(readingAt(project, 'Schedule!B1')).toBeUndefined();
  });
});

describe('a subtotal in another column than the tag', () => {
  it('is one, whatever is counted under the tags', () => {
    const counted: CellInput = { text: '2', value: 2, kind: 'number', formula: 'COUNTA(B2:B3)' };
    const project = readRowsOf([
      ['Area', 'Tag', 'Type', 'Run', 'Ch'],
      ['North', 'A-1', 'T', 'R', 8],
      ['North', 'A-2', 'T', 'R', 8],
      ['Subtotal North', counted, null, null, 16],
      ['South', 'A-3', 'T', 'R', 8],
    ]);
    expect(project.fixtures).toHaveLength(3);
    expect(project.source?.sheets[0]?.rowsSkipped).toEqual([{ row: 4, reason: 'subtotal' }]);
  });

  it('is none where tags are numbered by a count', () => {
    const made: CellInput = { text: 'F-1', value: 'F-1', formula: '"F-"&COUNTA(B$2:B2)' };
    const number: CellInput = { text: '2', value: 2, kind: 'number', formula: 'COUNTA(B$2:B3)' };
    const project = readRowsOf([
      ['Area', 'Tag', 'Type'],
      ['North', made, 'T'],
      ['North', number, 'T'],
    ]);
    expect(project.fixtures.map(({ tag }) => tag)).toEqual(['F-1', '2']);
  });

  it('is none on a row that names its type and run', () => {
    const project = readRowsOf([
      ['Area', 'Tag', 'Type', 'Run'],
      ['Total front', 'A-1', 'T', 'R'],
    ]);
    expect(project.fixtures).toHaveLength(1);
  });
});

describe('a bare number', () => {
  const read = (header: string, ...cells: readonly CellInput[]) =>
    readRowsOf([['Tag', header], ...cells.map((cell, n) => [`A-${n}`, cell])]);

  it('of 1000 or more among feet stands as it is; millimetres are offered', () => {
    const project = read('Span ft', 12, '3810');
    expect(project.fixtures[1]?.spanM).toBeCloseTo(1161.288, 9);
    expect(readingAt(project, 'Schedule!B3')).toMatchObject({
      confidence: 'guess',
      offer: '3810 mm',
    });
    expect(readingAt(project, 'Schedule!B2')).toBeUndefined();
  });

  it('in a column of watts is watts, as elsewhere; of watts and amperes a guess', () => {
    expect(readingAt(read('Load', '87 W', 87), 'Schedule!B3')?.confidence).toBe('likely');
    const mixed = readingAt(read('Load', '87 W', '0.4 A', 87), 'Schedule!B4');
    expect(mixed).toMatchObject({ value: 87, confidence: 'guess' });
    expect(mixed?.note).toContain('column of several');
    expect(readingAt(read('Load', 87), 'Schedule!B2')?.note).toContain('no unit anywhere');
  });
});

describe('channels under a header that may mean start addresses', () => {
  it('are constant per type though types are repeated by a mark and summed up', () => {
    const sum: CellInput = { text: '28', value: 28, kind: 'number', formula: 'SUM(C2:C4)' };
    const project = readRowsOf([
      ['Tag', 'Type', 'Ch'],
      ['A-1', 'T1', 8],
      ['A-2', '"', 8],
      ['A-3', 'T2', 12],
      ['A-4', '"', 12],
      ['Subtotal', null, sum],
    ]);
    expect(project.fixtures.map(({ footprint }) => footprint)).toEqual([8, 8, 12, 12]);
    expect(readingAt(project, 'Schedule!C1')?.confidence).toBe('likely');
  });
});

describe('made tags', () => {
  it('never differ from another in capitals alone', () => {
    const legend = sheetOf(
      [
        ['Type', 'W max'],
        ['F3A', 58],
      ],
      { name: 'Legend' },
    );
    const rows = [
      ['Tag', 'Type', 'Qty'],
      [null, 'F3A', 2],
      [null, 'F3a', 2],
    ];
    const { project } = readBook(workbookOf(sheetOf(rows), legend));
    const tags = project.fixtures.map(({ tag }) => tag?.toLowerCase());
    expect(new Set(tags).size).toBe(4);
  });
});

describe('an address as a number with a point', () => {
  it('names its universe where the other cells write it before a point', () => {
    const project = readRowsOf([
      ['Tag', 'Start'],
      ['A-1', '2.1'],
      ['A-2', 2.1],
      ['A-3', '2.20'],
    ]);
    expect(project.fixtures.map((f) => [f.universe, f.address, f.unread])).toEqual([
      [2, 1, []],
      [2, null, ['address']],
      [2, 20, []],
    ]);
  });
});
