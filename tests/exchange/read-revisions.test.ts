/** Revisions in place: strikes, colours, comments, dates, stale formulas. Rules: `trade.md` §2; cases invented. */
import { describe, expect, it } from 'vitest';
import { offerFromComment } from '../../src-shared/exchange/schedule/comment-offer.ts';
import { resultOfNumbers } from '../../src-shared/exchange/schedule/stale-formula.ts';
import { type CellInput, readingAt, readingsOf, readRowsOf } from './build-workbook.ts';

const header = ['Tag', 'Type', 'Mode', 'Ch', 'Load W', 'Crate'];

describe('struck through', () => {
  it('in part: what is not is read, told', () => {
    const cell: CellInput = { text: '9', value: '9', struckText: '5 ' };
    const project = readRowsOf([header, ['A-1', 'T', null, cell, 40]]);
    expect(project.fixtures[0]?.footprint).toBe(9);
    expect(readingAt(project, 'Schedule!D2')).toMatchObject({ value: 9, confidence: 'likely' });
    expect(readingAt(project, 'Schedule!D2')?.note).toContain('"5" is struck through');
  });

  it('in a column that is carried along: told', () => {
    const cell: CellInput = { text: 'C-1', value: 'C-1', struck: true };
    const project = readRowsOf([header, ['A-1', 'T', null, 5, 40, cell]]);
    expect(readingAt(project, 'Schedule!F2')?.note).toContain('struck through');
    expect(project.fixtures[0]?.origin?.cells[5]).toBe('C-1');
  });
});

describe('a mode that names other channels than the footprint beside it', () => {
  it('is told at the footprint, which stands, with the other on offer', () => {
    const project = readRowsOf([header, ['A-1', 'T', '9ch', 5, 40]]);
    expect(project.fixtures[0]?.footprint).toBe(5);
    expect(readingAt(project, 'Schedule!D2')).toMatchObject({
      value: 5,
      confidence: 'guess',
      offer: '9',
    });
  });

  it('says nothing where they agree, or the mode is only a name', () => {
    const project = readRowsOf([header, ['A-1', 'T', '5ch', 5, 40], ['A-2', 'T', 'Mode 9', 5, 40]]);
    const told = readingsOf(project).filter(({ note }) => note.includes('this cell'));
    expect(told).toEqual([]);
  });
});

describe('the colour of a revision', () => {
  const red = (text: string | number): CellInput => ({
    text: String(text),
    value: text,
    kind: typeof text === 'number' ? 'number' : 'text',
    colour: 'FF0000',
  });
  const plain = (n: number) => [`A-${n}`, 'T', '5ch', 5, 40];
  const coloured = (n: number) => [red(`A-${n}`), red('T'), red('5ch'), red(5), 40];

  it('is one reading a row, at its tag, and the row is read', () => {
    const project = readRowsOf([header, plain(1), plain(2), plain(3), coloured(4)]);
    expect(project.fixtures).toHaveLength(4);
    const told = readingsOf(project).filter(({ note }) => note.includes('FF0000'));
    expect(told).toMatchObject([{ cell: 'Schedule!A5', value: 'A-4', confidence: 'likely' }]);
  });

  it('is none where most rows have it: the look of the sheet', () => {
    const project = readRowsOf([header, coloured(1), coloured(2), coloured(3), plain(4)]);
    expect(readingsOf(project).filter(({ note }) => note.includes('FF0000'))).toEqual([]);
  });

  it('is none on a single cell', () => {
    const project = readRowsOf([header, plain(1), plain(2), [red('A-3'), 'T', '5ch', 5, 40]]);
    expect(readingsOf(project).filter(({ note }) => note.includes('FF0000'))).toEqual([]);
  });
});

describe('a comment', () => {
  it.each([
    ['now 9-ch mode', 'mode', '5ch', '9ch'],
    ['now 9-ch mode', 'mode', '5 ch', '9 ch'],
    ['now 9-ch mode', 'footprint', '5', '9'],
    ['now 14 W', 'load', '18', '14 W'],
    ['14 W', 'load', '18', '14 W'],
    ['should be 12\'-6"', 'span', '10 ft', '12\'-6"'],
    ['A-13 not A-12', 'tag', 'A-12', 'A-13'],
    ['changed to F3A, see rev list', 'type', 'F3', 'F3A'],
    ['is now 2/101', 'address', '2/1', '2/101'],
    ['must be 0.95', 'powerFactor', '0.9', '0.95'],
    ['changed to 12 AWG', 'conductor', '14 AWG', '12 AWG'],
  ] as const)('"%s" on a %s of %s offers %s', (comment, id, text, offer) => {
    expect(offerFromComment(comment, id, text)).toBe(offer);
  });

  it.each([
    ['confirmed by site, 120', 'supply', '120'],
    ['Bracket moved 200 mm east', 'span', '2 m'],
    ['see elevation 3', 'location', 'kerb'],
    ['was 5, ask the maker', 'footprint', '9'],
    ['now 9ch', 'mode', '9ch'],
    ['A-13 not A-12', 'tag', 'A-14'],
    ['now with bracket', 'type', 'F3'],
    ['Ordered long: box moved', 'installed', "15'"],
    ['now -3 m', 'span', '2 m'],
  ] as const)('"%s" on a %s of %s offers nothing', (comment, id, text) => {
    expect(offerFromComment(comment, id, text)).toBeNull();
  });

  it('is listed with what it offers, and never read', () => {
    const cell: CellInput = { text: '5ch', value: '5ch', note: 'now 9-ch mode' };
    const project = readRowsOf([header, ['A-1', 'T', cell, 5, 40]]);
    expect(project.fixtures[0]).toMatchObject({ mode: '5ch', footprint: 5 });
    expect(readingAt(project, 'Schedule!C2')).toMatchObject({ value: '5ch', offer: '9ch' });
    // The footprint beside it says the old mode too.
    expect(readingAt(project, 'Schedule!D2')).toMatchObject({ value: 5, offer: '9' });
  });

  it('on the mode says nothing of a footprint that agrees', () => {
    const cell: CellInput = { text: '5ch', value: '5ch', note: 'now 9-ch mode' };
    const project = readRowsOf([header, ['A-1', 'T', cell, 9, 40]]);
    expect(readingAt(project, 'Schedule!D2')).toBeUndefined();
  });

  it('on a blank cell and on a carried one is listed', () => {
    const note = 'to follow';
    const project = readRowsOf([
      header,
      ['A-1', 'T', null, 5, { text: '', value: '', note }, { text: 'C-1', value: 'C-1', note }],
    ]);
    expect(readingAt(project, 'Schedule!E2')?.note).toContain('to follow');
    expect(readingAt(project, 'Schedule!F2')?.note).toContain('to follow');
  });
});

describe('a date where a tag was', () => {
  const date: CellInput = { text: '1-Mar', value: '2031-03-01', kind: 'date' };
  const offers = (tags: readonly CellInput[], profile: 'iec' | 'north-america') =>
    readingsOf(readRowsOf([['Tag', 'Type'], ...tags.map((t) => [t, 'T'])], {}, { profile })).find(
      ({ value }) => value === '1-Mar',
    );

  it('offers what the other tags make likely, and names the other order', () => {
    expect(offers([date, '3-2', '3-3'], 'iec')).toMatchObject({ offer: '3-1' });
    expect(offers([date, '1-2', '1-4'], 'north-america')).toMatchObject({ offer: '1-3' });
    expect(offers([date, '3-2'], 'iec')?.note).toContain('3-1, or 1-3');
  });

  it('offers the order of the profile where no tag tells', () => {
    expect(offers([date], 'north-america')?.offer).toBe('3-1');
    expect(offers([date], 'iec')?.offer).toBe('1-3');
  });

  it('offers nothing where only words were typed', () => {
    const project = readRowsOf([
      ['Tag', 'Type'],
      ['3-Jan', 'T'],
    ]);
    expect(readingAt(project, 'Schedule!A2')).not.toHaveProperty('offer');
  });
});

describe('a formula of numbers', () => {
  it.each([
    ['36+2.5', 38.5],
    ['=3.5*12', 42],
    ['10-2*3/4', 8.5],
    ['-1+2', 1],
  ])('%s gives %d', (formula, result) => expect(resultOfNumbers(formula)).toBe(result));

  it.each(['H18+2', 'SUM(1,2)', '12', '1+(2)', '2^3', '1/0'])('%s is none', (formula) => {
    expect(resultOfNumbers(formula)).toBeNull();
  });

  it('whose kept result is another is told, the kept one read', () => {
    const cell: CellInput = { text: '36', value: 36, kind: 'number', formula: '36+2.5' };
    const project = readRowsOf([header, ['A-1', 'T', null, 5, cell]]);
    expect(project.fixtures[0]?.loadW).toBe(36);
    expect(readingAt(project, 'Schedule!E2')).toMatchObject({ value: 36, offer: '38.5' });
  });

  it('whose kept result is right is not', () => {
    const cell: CellInput = { text: '38.5', value: 38.5, kind: 'number', formula: '36+2.5' };
    const project = readRowsOf([header, ['A-1', 'T', null, 5, cell]]);
    expect(readingAt(project, 'Schedule!E2')).toBeUndefined();
  });

  it('without a result is unknown, and what it gives is offered', () => {
    const cell: CellInput = { text: '', value: null, formula: '3.5*12' };
    const project = readRowsOf([header, ['A-1', 'T', null, 5, cell]]);
    expect(project.fixtures[0]).toMatchObject({ loadW: null, unread: ['load'] });
    expect(readingAt(project, 'Schedule!E2')).toMatchObject({ confidence: 'refused', offer: '42' });
  });
});

describe('a ditto mark', () => {
  it('under a blank cell repeats nothing', () => {
    const project = readRowsOf([
      header,
      ['A-1', 'T', '5ch', 5, 40],
      ['A-2', 'T', '5ch', 5, null],
      ['A-3', 'T', '5ch', 5, '"'],
    ]);
    expect(project.fixtures.map(({ loadW }) => loadW)).toEqual([40, null, null]);
    expect(readingAt(project, 'Schedule!E4')).toMatchObject({ confidence: 'refused' });
  });
});
