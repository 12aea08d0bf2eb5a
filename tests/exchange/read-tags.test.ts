/** Tags, quantities and ranges. Rules: the check command's contract; cases invented. */
import { describe, expect, it } from 'vitest';
import {
  generatedTags,
  tagsOfList,
  tagsOfRange,
} from '../../src-shared/exchange/schedule/tag-range.ts';
import { readingAt, readRowsOf } from './build-workbook.ts';

describe('ranges of tags', () => {
  const twelve = Array.from({ length: 12 }, (_, i) => `A-${String(i + 1).padStart(2, '0')}`);
  it.each([
    'A-01–A-12',
    'A-01 – A-12',
    'A-01 to A-12',
    'A-01 - A-12',
    'A-01…A-12',
    'A-01..A-12',
    'A-01-A-12',
  ])('%s', (text) => expect(tagsOfRange(text, null)).toEqual(twelve));

  it('with a bare end need the quantity to agree', () => {
    expect(tagsOfRange('A-01–12', 12)).toEqual(twelve);
    expect(tagsOfRange('A-01–12', null)).toBeNull();
    expect(tagsOfRange('L1–05', null)).toBeNull();
  });

  it.each(['A-01', 'A-01-12', '3-1', 'A-12–A-01', 'A-01–B-12', 'A1-B2', '1-2', 'F_0012', ''])(
    '%s is none',
    (text) => expect(tagsOfRange(text, null)).toBeNull(),
  );

  it('are not made endless', () => {
    expect(tagsOfRange('A1–A999999', null)).toBeNull();
  });
});

describe('lists of tags', () => {
  it.each(['A-13, A-14', 'A-13; A-14', 'A-13 & A-14', 'A-13\nA-14', 'A-13+A-14'])('%j', (text) =>
    expect(tagsOfList(text)).toEqual(['A-13', 'A-14']),
  );

  it.each(['A-13', 'A-13,14', 'A-13, B-14', '1,3', 'A-13, A-13', 'A-13, spare', 'A & B'])(
    '%s is none',
    (text) => expect(tagsOfList(text)).toBeNull(),
  );
});

describe('generated tags', () => {
  it('are padded and avoid those written', () => {
    expect(generatedTags('F3', 3, new Set(['F3-2']))).toEqual(['F3-1', 'F3-3', 'F3-4']);
    expect(generatedTags('F3', 14, new Set()).at(0)).toBe('F3-01');
  });
});

describe('a quantity row', () => {
  // A footbridge: one row a type and span, watts in the legend only.
  const header = ['Tag', 'Type', 'Qty', 'Run', 'Place', 'Spacing', 'Start'];

  it('becomes that many fixtures, counted as one row read', () => {
    const project = readRowsOf([header, ['F3', 'F3', 14, 'S2N', 1, '@ 2.5 m c/c', 1]]);
    expect(project.fixtures.map((f) => f.tag)).toEqual(generatedTags('F3', 14, new Set()));
    expect(project.fixtures.map((f) => f.place)).toEqual(
      Array.from({ length: 14 }, (_, i) => i + 1),
    );
    expect(new Set(project.fixtures.map((f) => f.spanM))).toEqual(new Set([2.5]));
    // Only the first has the row's start address.
    expect(project.fixtures.map((f) => f.address)).toEqual([1, ...Array(13).fill(null)]);
    expect(new Set(project.fixtures.map((f) => f.id)).size).toBe(14);
    expect(project.source?.sheets[0]?.rowsRead).toBe(1);
    expect(readingAt(project, 'Schedule!C2')).toMatchObject({
      raw: '14',
      value: 14,
      confidence: 'likely',
    });
  });

  it('takes the tags of its range when the count agrees', () => {
    const project = readRowsOf([header, ['A-01–A-03', 'F3', '3 pcs', 'R', null, '2 m']]);
    expect(project.fixtures.map((f) => f.tag)).toEqual(['A-01', 'A-02', 'A-03']);
  });

  it('is one fixture a tag where the cell lists several, told', () => {
    const project = readRowsOf([header, ['A-13, A-14', 'F3', null, 'R', null, '2 m']]);
    expect(project.fixtures.map((f) => f.tag)).toEqual(['A-13', 'A-14']);
    expect(readingAt(project, 'Schedule!A2')?.confidence).toBe('likely');
  });

  it.each(['A-13, A-14', 'A-01–A-03'])('of 1 beside %s is one fixture, as a guess', (tags) => {
    const project = readRowsOf([header, [tags, 'F3', 1, 'R', null, '2 m']]);
    expect(project.fixtures).toHaveLength(1);
    expect(readingAt(project, 'Schedule!C2')?.confidence).toBe('guess');
  });

  it('makes tags, as a guess, when it does not', () => {
    const project = readRowsOf([header, ['A-01–A-03', 'F3', 5, 'R', null, '2 m']]);
    expect(project.fixtures).toHaveLength(5);
    expect(readingAt(project, 'Schedule!C2')?.confidence).toBe('guess');
  });

  it('names fixtures by type where it has no tag, never twice', () => {
    const project = readRowsOf([header, [null, 'F3', 2, 'R'], [null, 'F3', 2, 'R']]);
    expect(project.fixtures.map((f) => f.tag)).toEqual(['F3-1', 'F3-2', 'F3-3', 'F3-4']);
  });

  it.each([['many'], [2.5], [-3], [5000]])('of %s stands for one fixture, told', (quantity) => {
    const project = readRowsOf([header, ['A', 'T', quantity, 'R']]);
    expect(project.fixtures).toHaveLength(1);
    expect(readingAt(project, 'Schedule!C2')?.confidence).toBe('refused');
  });
});

describe('a tag', () => {
  const read = (cell: Parameters<typeof readRowsOf>[0][number][number]) => {
    const project = readRowsOf([
      ['Tag', 'Type'],
      [cell, 'T'],
    ]);
    return [project.fixtures[0]?.tag, readingAt(project, 'Schedule!A2')?.confidence ?? null];
  };

  it('keeps zeros, dashes and what a number format shows', () => {
    expect(read('007')).toEqual(['007', null]);
    expect(read({ text: '007', value: 7, kind: 'number' })).toEqual(['007', null]);
    expect(read(' A–01\u00A0')).toEqual(['A–01', null]);
    expect(read('=SUM')).toEqual(['=SUM', null]);
  });

  it('eaten by a date is a guess', () => {
    expect(read({ text: '1-Mar', value: '2031-03-01', kind: 'date' })).toEqual(['1-Mar', 'guess']);
    expect(read('3-Jan')).toEqual(['3-Jan', 'guess']);
  });

  it('that is a number with a point is a guess', () => {
    expect(read(3.1)).toEqual(['3.1', 'guess']);
  });
});
