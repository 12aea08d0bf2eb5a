/** Cells that say something that could not be read: nothing may take their place. Cases invented. */
import { describe, expect, it } from 'vitest';
import { type CellInput, readingAt, readRowsOf } from './build-workbook.ts';

function unreadOf(header: string, cell: CellInput): readonly string[] {
  const [fixture] = readRowsOf([
    ['Tag', 'Type', 'Run', 'Place', header],
    ['A', 'T', 'R', 1, cell],
  ]).fixtures;
  return fixture?.unread ?? [];
}

describe('a fixture knows the columns that could not be read', () => {
  it.each([
    ['Load W', 'see sheet 4', ['load']],
    ['Load W', -5, ['load']],
    ['Load W', { text: '#REF!', value: '#REF!', kind: 'error' }, ['load']],
    // As a csv file and our own export have it.
    ['Mode', '#N/A', ['mode']],
    ['Load W', { text: '', value: null, formula: 'A1*2' }, ['load']],
    ['Load VA', 100, ['load']],
    ['Span ft', 'varies', ['span']],
    ['pf', 1.4, ['powerFactor']],
    ['Footprint', 'lots', ['footprint']],
    ['Start', 'tbc', ['universe', 'address']],
    ['Start', 2.1, ['universe', 'address']],
    ['Universe', -1, ['universe']],
    ['Conductor', 'as per spec', ['conductor']],
    ['Supply V', 'mains', ['supply']],
    ['Mode', '"', ['mode']],
  ] as const)('%s %j', (header, cell, columns) => {
    expect(unreadOf(header, cell)).toEqual(columns);
  });

  it.each([
    ['Load W', 87],
    ['Load W', null],
    ['Load W', '-'],
    ['Load W', { text: '87', value: '87', struck: true }],
    ['Start', 0],
    ['Start', 600],
    ['Footprint', 600],
    ['Conductor', '#12'],
    ['Quantity', 'several'],
  ] as const)('not %s %j', (header, cell) => {
    expect(unreadOf(header, cell)).toEqual([]);
  });

  it('but not where a value is known all the same', () => {
    const [first, second] = readRowsOf([
      ['Tag', 'Run', 'Place', 'Universe', 'Start'],
      ['A', 'R', 'first', 3, 2.1],
      ['B', 'R', 2, 3, 20],
    ]).fixtures;
    expect(first).toMatchObject({ place: 1, universe: 3, address: null, unread: ['address'] });
    expect(second?.unread).toEqual([]);
  });

  it('each of several out of one row', () => {
    const { fixtures } = readRowsOf([
      ['Tag', 'Type', 'Qty', 'Load W'],
      ['A', 'T', 2, 'see sheet 4'],
    ]);
    expect(fixtures.map((f) => f.unread)).toEqual([['load'], ['load']]);
  });

  it('as above, by a ditto mark or a merged cell', () => {
    const merges = [{ firstRow: 2, lastRow: 3, firstColumn: 1, lastColumn: 1 }];
    const rows = [['Tag', 'Load W'], ['A', 'see sheet 4'], ['B'], ['C', '"'], ['D']];
    const { fixtures } = readRowsOf(rows, { merges });
    expect(fixtures.map((f) => f.unread)).toEqual([['load'], ['load'], ['load'], []]);
  });
});

describe('a conductor that is no size', () => {
  it('leaves the run without one, told', () => {
    const project = readRowsOf([
      ['Tag', 'Run', 'Place', 'Conductor'],
      ['A', 'R', 1, 'as per spec'],
      ['B', 'R', 2, null],
    ]);
    expect(project.runs[0]?.conductor).toBeNull();
    expect(project.fixtures.map((f) => f.unread)).toEqual([['conductor'], []]);
    expect(readingAt(project, 'Schedule!D2')).toMatchObject({ value: null, confidence: 'refused' });
  });
});
