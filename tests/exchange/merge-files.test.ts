/** Files merged by tag. Rules: `trade.md` §2, "conflicts shown side by side, not silently won"; cases invented. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { noAnswers } from '../../src-shared/document/import-answers.ts';
import { matchTags } from '../../src-shared/exchange/merge/match-tags.ts';
import { sameValue } from '../../src-shared/exchange/merge/same-value.ts';
import { tagKey } from '../../src-shared/exchange/merge/tag-key.ts';
import type { ReadOptions } from '../../src-shared/exchange/read-schedule.ts';
import {
  answersFor,
  type CellInput,
  fileOf,
  readBook,
  readingAt,
  sheetOf,
} from './build-workbook.ts';

type Rows = readonly (readonly CellInput[])[];

function merged(first: Rows, second: Rows, options: ReadOptions = {}) {
  const files = [fileOf('a.xlsx', sheetOf(first)), fileOf('b.xlsx', sheetOf(second))];
  return readBook(files, options).project;
}

describe('tags', () => {
  it.each([
    ['F_0012', 'F-12'],
    ['F-12', 'f 12'],
    ['F12', 'F.012'],
    ['L41-03', 'l41/3'],
    ['007', '7'],
  ])('%s and %s are alike', (a, b) => expect(tagKey(a)).toBe(tagKey(b)));

  it.each([
    ['L4-1', 'L41'],
    ['F-12', 'F-120'],
    ['A-1', 'B-1'],
    ['F12A', 'F12'],
    ['1-23', '12-3'],
  ])('%s and %s are not', (a, b) => expect(tagKey(a)).not.toBe(tagKey(b)));

  it('without a number are alike to nothing', () => expect(tagKey('lobby')).toBeNull());

  it('are matched one to one: never two to one (property)', () => {
    const tag = fc.oneof(
      fc.constantFrom('F-1', 'F_01', 'F1', 'f-001', 'F-2', 'G-2', 'lobby'),
      fc.constant(null),
    );
    const list = fc.array(tag, { maxLength: 8 });
    fc.assert(
      fc.property(list, list, (first, second) => {
        const { exact, alike } = matchTags(first, second);
        const pairs = [...exact, ...alike];
        expect(new Set(pairs.map(([b]) => b)).size).toBe(pairs.length);
        expect(new Set(pairs.map(([, a]) => a)).size).toBe(pairs.length);
        for (const [b, a] of exact) expect(first[a]).toBe(second[b]);
        for (const [b, a] of alike) expect(tagKey(first[a] ?? '')).toBe(tagKey(second[b] ?? ''));
      }),
      { seed: 20310307, numRuns: 500 },
    );
  });
});

describe('values', () => {
  it.each([
    ['span', 3.6576, 3.66, true],
    ['span', 2.5, 2.4384, false],
    ['load', 38.5, 38.6, false],
    ['circuit', '1,3', '1, 3', true],
    ['type', 'f3', 'F3', true],
    ['type', 'F3', 'F3A', false],
    ['panel', 'LP-3', 'lp-3', true],
    ['fedFrom', 'F-1', 'F_001', true],
  ] as const)('%s: %s and %s', (id, a, b, same) => expect(sameValue(id, a, b)).toBe(same));
});

describe('two files', () => {
  const first: Rows = [
    ['Tag', 'Type', 'Univ', 'Start', 'Remarks'],
    ['F_01', 'T', 1, 1, 'front'],
    ['F_02', 'T', 1, 9, null],
  ];
  const second: Rows = [
    ['Tag', 'Run', 'Pos', 'Panel', 'Ckt', 'Span ft', 'Remarks'],
    ['F-1', 'R1', 1, 'LP', '1,3', 10, 'back'],
    ['F-2', 'R1', 2, null, null, 12, null],
    ['F-9', 'R1', 3, null, null, 12, null],
  ];
  const project = merged(first, second);

  it('fill each other’s blanks; the rows of both are kept', () => {
    expect(project.fixtures).toMatchObject([
      { tag: 'F_01', type: 'T', run: 'R1', place: 1, universe: 1, address: 1, remarks: 'front' },
      { tag: 'F_02', run: 'R1', place: 2, address: 9 },
      { tag: 'F-9', run: 'R1', place: 3, address: null },
    ]);
    expect(project.fixtures[0]?.origin).toMatchObject({ file: 0, row: 2 });
    expect(project.fixtures[0]?.alsoFrom).toMatchObject([{ file: 1, row: 2 }]);
    expect(project.circuits[0]).toMatchObject({ panel: 'LP', name: '1,3' });
    expect(project.fixtures[2]?.origin).toMatchObject({ file: 1, row: 4 });
  });

  it('have other words in remarks without contradiction', () => {
    expect(project.source?.readings.filter((r) => r.confidence === 'refused')).toEqual([]);
  });

  it('have the columns of both, cells in their order', () => {
    const { source, fixtures } = project;
    expect(source?.columns.map(({ header }) => header)).toEqual([
      'Tag', 'Type', 'Univ', 'Start', 'Remarks', 'Run', 'Pos', 'Panel', 'Ckt', 'Span ft',
    ]); // biome-ignore format: a list
    expect(fixtures[0]?.alsoFrom[0]?.cells).toEqual([
      'F-1', null, null, null, 'back', 'R1', 1, 'LP', '1,3', 10,
    ]); // biome-ignore format: a list
  });

  it('ask whether tags alike are one, with examples', () => {
    expect(project.source?.questions).toMatchObject([
      { id: 'tag-match', file: 1, chosen: 'alike' },
    ]);
    expect(project.source?.questions[0]?.text).toContain('F-1 and F_01');
  });

  it('ask nothing where every match is the same as written', () => {
    const same = merged(first, [
      ['Tag', 'Run'],
      ['F_01', 'R1'],
    ]);
    expect(same.source?.questions).toEqual([]);
    expect(same.fixtures).toHaveLength(2);
  });

  it('of one name are told apart', () => {
    const file = fileOf(
      'a.xlsx',
      sheetOf([
        ['Tag', 'Run'],
        ['Z-1', '"'],
      ]),
    );
    const { source } = readBook([fileOf('a.xlsx', sheetOf(first)), file]).project;
    expect(source?.files.map(({ fileName }) => fileName)).toEqual(['a.xlsx', 'a (2).xlsx']);
    expect(source?.readings.some(({ cell }) => cell === '[a (2).xlsx]Schedule!B2')).toBe(true);
  });

  it('one without schedule is refused with its name', () => {
    const empty = fileOf('b.xlsx', sheetOf([['hello']]));
    expect(() => readBook([fileOf('a.xlsx', sheetOf(first)), empty])).toThrow(/b\.xlsx/u);
  });
});

describe('feeders', () => {
  it('are named by the tags of the first file', () => {
    const project = merged(
      [
        ['Tag', 'Type'],
        ['F_01', 'T'],
        ['F_02', 'T'],
      ],
      [
        ['Tag', 'Run', 'Fed from'],
        ['F-1', 'R', 'BOX'],
        ['F-2', 'R', 'F-1'],
        ['F-3', 'R', 'f-2'],
      ],
    );
    expect(project.fixtures.map(({ fedFrom }) => fedFrom)).toEqual(['BOX', 'F_01', 'F_02']);
    expect(readingAt(project, '[b.xlsx]Schedule!C3')?.note).toContain('F-1 is F_01');
  });
});

describe('a contradiction', () => {
  const head = ['Tag', 'Type', 'Load W'];
  const first: Rows = [head, ['A-1', 'T1', 40], ['A-2', 'T1', 40]];
  const second: Rows = [head, ['A-1', 'T2', 45], ['A-2', 'T1', 40]];
  const project = merged(first, second);

  it('is won by neither: null, unread, told at both cells with the other one', () => {
    expect(project.fixtures[0]).toMatchObject({
      type: null,
      loadW: null,
      unread: ['type', 'load'],
    });
    expect(readingAt(project, 'Schedule!B2')).toMatchObject({ confidence: 'refused', value: null });
    expect(readingAt(project, 'Schedule!B2')?.note).toContain('[b.xlsx]Schedule!B2 says "T2"');
    expect(readingAt(project, '[b.xlsx]Schedule!B2')?.note).toContain('Schedule!B2 says "T1"');
    expect(readingAt(project, '[b.xlsx]Schedule!C2')?.note).toContain('"40"');
  });

  it('is none where both say the same', () => {
    expect(project.fixtures[1]).toMatchObject({ type: 'T1', loadW: 40, unread: [] });
  });

  it('is settled by leaving one cell blank', () => {
    const answers = answersFor(['Schedule!B2', 'T1', null], ['[b.xlsx]Schedule!C2', '45', null]);
    const next = merged(first, second, { answers });
    expect(next.fixtures[0]).toMatchObject({ type: 'T2', loadW: 40, unread: [] });
  });

  it('of watts and volt-amperes shows once both are watts', () => {
    const va = merged(
      [
        ['Tag', 'Load', 'pf'],
        ['A-1', '50 VA', 0.9],
      ],
      [
        ['Tag', 'Load W'],
        ['A-1', 45],
      ],
    );
    expect(va.fixtures[0]).toMatchObject({ loadW: 45, unread: [] });
    const other = merged(
      [
        ['Tag', 'Load', 'pf'],
        ['A-1', '50 VA', 0.9],
      ],
      [
        ['Tag', 'Load W'],
        ['A-1', 60],
      ],
    );
    expect(other.fixtures[0]).toMatchObject({ loadW: null, unread: ['load'] });
  });

  it('with a cell that could not be read is none: the readable one is taken, told', () => {
    const read = merged(
      [
        ['Tag', 'Start'],
        ['A-1', 'tbc'],
      ],
      [
        ['Tag', 'Start'],
        ['A-1', '2/30'],
      ],
    );
    expect(read.fixtures[0]).toMatchObject({ universe: 2, address: 30, unread: [] });
    const told = read.source?.readings.some(({ note }) => note.includes('could not be read'));
    expect(told).toBe(true);
  });
});

describe('a doubtful tag', () => {
  it('is matched to nothing and refused', () => {
    const project = merged(
      [
        ['Tag', 'Type'],
        ['F-1', 'T'],
        ['F_01', 'T'],
      ],
      [
        ['Tag', 'Run'],
        ['F 1', 'R'],
        ['F-2', 'R'],
      ],
    );
    expect(project.fixtures.map(({ tag }) => tag)).toEqual(['F-1', 'F_01', 'F 1', 'F-2']);
    expect(readingAt(project, '[b.xlsx]Schedule!A2')).toMatchObject({ confidence: 'refused' });
  });

  it('is one that stands twice as written', () => {
    const project = merged(
      [
        ['Tag', 'Type'],
        ['A-1', 'T'],
        ['A-1', 'T'],
      ],
      [
        ['Tag', 'Run'],
        ['A-1', 'R'],
      ],
    );
    expect(project.fixtures).toHaveLength(3);
  });

  it('with an exact partner is not doubtful', () => {
    const project = merged(
      [
        ['Tag', 'Type'],
        ['F-1', 'T'],
      ],
      [
        ['Tag', 'Run'],
        ['F-1', 'R'],
      ],
    );
    expect(project.fixtures).toMatchObject([{ tag: 'F-1', type: 'T', run: 'R' }]);
  });
});

describe('universes', () => {
  const first: Rows = [
    ['Tag', 'Univ', 'Start'],
    ['A-1', 0, 1],
    ['A-2', 1, 1],
  ];
  const second: Rows = [
    ['Tag', 'Univ', 'Start'],
    ['A-1', 1, 1],
    ['A-2', 2, 1],
  ];

  it('counted from 0 in one file are not in contradiction to the other', () => {
    const project = merged(first, second);
    expect(project.fixtures.map((f) => [f.universe, f.unread])).toEqual([
      [1, []],
      [2, []],
    ]);
    expect(project.source?.questions.map(({ id, file, chosen }) => [id, file, chosen])).toEqual([
      ['universe-base', 0, '0'],
      ['universe-base', 1, '1'],
    ]);
  });

  const counted = (from: number, rows: number): Rows => [
    ['Tag', 'Univ', 'Start'],
    ...Array.from({ length: rows }, (_, n) => [`A-${n}`, n + from, 1]),
  ];

  it('that are one apart throughout raise the question, for both files', () => {
    // The first file begins at 1 and never says 0.
    const project = merged(counted(1, 4), counted(2, 4));
    expect(readingAt(project, 'a.xlsx')?.note).toContain('one less than in b.xlsx on 4 of 4');
    expect(project.source?.questions.map(({ id, file, chosen }) => [id, file, chosen])).toEqual([
      ['universe-base', 0, '1'],
      ['universe-base', 1, '1'],
    ]);
    const questions = [{ id: 'universe-base' as const, file: 0, value: '0' }];
    const settled = merged(counted(1, 4), counted(2, 4), { answers: { ...noAnswers, questions } });
    expect(settled.fixtures.map(({ universe }) => universe)).toEqual([2, 3, 4, 5]);
  });

  it('of which two are apart do not', () => {
    const [head = [], ...rows] = counted(1, 6);
    const second = [head, ...rows.map((row, n) => (n < 2 ? [row[0] ?? null, 9, 1] : row))];
    expect(merged(counted(1, 6), second).source?.questions).toEqual([]);
  });

  it('answered otherwise are', () => {
    const questions = [{ id: 'universe-base' as const, file: 1, value: '0' }];
    const project = merged(first, second, { answers: { ...noAnswers, questions } });
    expect(project.fixtures[1]).toMatchObject({ universe: null, unread: ['universe'] });
  });
});
