/** Universes and start addresses: 512 slots a universe (ANSI E1.11). Rules: the check command's contract. */
import { describe, expect, it } from 'vitest';
import { type CellInput, readingAt, readRowsOf } from './build-workbook.ts';

function read(cell: CellInput, universe?: CellInput) {
  const header =
    universe === undefined ? ['Tag', 'Type', 'Start'] : ['Tag', 'Type', 'Start', 'Universe'];
  const row = universe === undefined ? ['A', 'T', cell] : ['A', 'T', cell, universe];
  const project = readRowsOf([header, row]);
  const [fixture] = project.fixtures;
  const confidence = readingAt(project, 'Schedule!C2')?.confidence ?? null;
  return [fixture?.universe, fixture?.address, confidence];
}

describe('a start address', () => {
  it.each([
    [101, null, 101, null],
    ['101', null, 101, null],
    ['2/101', 2, 101, 'sure'],
    ['2.101', 2, 101, 'sure'],
    ['2-101', 2, 101, 'sure'],
    ['2:101', 2, 101, 'sure'],
    ['U2.101', 2, 101, 'sure'],
    ['2.1', 2, 1, 'likely'],
    ['2.10', 2, 10, 'likely'],
    ['ch 12', null, 12, 'sure'],
  ] as const)('%s', (cell, universe, address, confidence) => {
    expect(read(cell)).toEqual([universe, address, confidence]);
  });

  it('2.1 as text is not 2.10', () => {
    expect(read('2.1')[1]).not.toBe(read('2.10')[1]);
  });

  it('2.1 as a number is refused', () => {
    expect(read(2.1)).toEqual([null, null, 'refused']);
  });

  it('as a number that its format shows with three digits is a guess', () => {
    expect(read({ text: '2.100', value: 2.1, kind: 'number' })).toEqual([2, 100, 'guess']);
  });

  it.each([
    [0, 0],
    ['0', 0],
    [-4, -4],
    ['−3', -3],
  ] as const)('%s stands as it is, told, so that its limit finds it', (cell, address) => {
    expect(read(cell)).toEqual([null, address, 'sure']);
    expect(read(cell, 2)).toEqual([2, address, 'sure']);
  });

  it.each(['tbc', '2,101', '12-14 spare'] as const)('%s is refused', (cell) => {
    expect(read(cell)).toEqual([null, null, 'refused']);
  });

  it('past slot 512 beside its universe stands as it is, told, so that its limit finds it', () => {
    expect(read('2/600')).toEqual([2, 600, 'guess']);
  });

  it('that became a date is refused', () => {
    expect(read({ text: '2-Oct', value: '2031-10-02', kind: 'date' })).toEqual([
      null,
      null,
      'refused',
    ]);
  });

  it('past 512 stands as it is while a universe is stated', () => {
    expect(read(600, 1)).toEqual([1, 600, 'sure']);
  });

  it('past 512 is counted through all universes where none is stated anywhere', () => {
    const project = readRowsOf([
      ['Tag', 'Type', 'Start'],
      ['A', 'T', 613],
      ['B', 'T', 512],
      ['C', 'T', 513],
      ['D', 'T', 1025],
    ]);
    expect(project.fixtures.map((f) => [f.universe, f.address])).toEqual([
      [2, 101],
      [1, 512],
      [2, 1],
      [3, 1],
    ]);
    expect(readingAt(project, 'Schedule!C3')?.confidence).toBe('guess');
  });

  it('with another universe than its column says so', () => {
    expect(read('2/101', 1).slice(0, 2)).toEqual([1, 101]);
    const project = readRowsOf([
      ['Tag', 'Universe', 'Start'],
      ['A', 1, '2/101'],
    ]);
    expect(project.fixtures[0]).toMatchObject({ universe: 1, address: 101 });
    const told = project.source?.readings.filter((r) => r.cell === 'Schedule!C2') ?? [];
    expect(told.some((r) => r.note.includes('the universe column was taken'))).toBe(true);
  });
});

describe('a hyphen in start addresses', () => {
  type Rows = Parameters<typeof readRowsOf>[0];
  const addresses = (rows: Rows) =>
    readRowsOf(rows).fixtures.map((f) => [f.universe, f.address] as const);
  const starts = [
    [null, 1],
    [null, 5],
  ];

  it('is a range of slots where it is as long as the footprint', () => {
    const rows: Rows = [
      ['Tag', 'Footprint', 'Start'],
      ['A', 4, '1-4'],
      ['B', 4, '5–8'],
    ];
    expect(addresses(rows)).toEqual(starts);
    expect(readingAt(readRowsOf(rows), 'Schedule!C2')?.confidence).toBe('likely');
  });

  it('is one where each goes on where the last one ended', () => {
    const rows: Rows = [['Tag', 'Start'], ['A', '1-4'], ['B', '5-8']]; // biome-ignore format: rows
    expect(addresses(rows)).toEqual(starts);
  });

  it('is one beside another universe in its column, which holds', () => {
    const rows: Rows = [
      ['Tag', 'Universe', 'Start'],
      ['A', 3, '1-4'],
      ['B', 3, '5-8'],
    ];
    expect(addresses(rows)).toEqual([
      [3, 1],
      [3, 5],
    ]);
    expect(readRowsOf(rows).source?.readings.map((r) => r.column)).not.toContain('universe');
  });

  it('past slot 512 counts through all universes', () => {
    const rows: Rows = [
      ['Tag', 'Footprint', 'Start'],
      ['A', 4, '509-512'],
      ['B', 4, '513-516'],
    ];
    expect(addresses(rows)).toEqual([
      [1, 509],
      [2, 1],
    ]);
  });

  it('stands behind the universe where neither holds', () => {
    const rows: Rows = [
      ['Tag', 'Footprint', 'Start'],
      ['A', 4, '1-5'],
      ['B', 4, '1-9'],
    ];
    expect(addresses(rows)).toEqual([
      [1, 5],
      [1, 9],
    ]);
    expect(readingAt(readRowsOf(rows), 'Schedule!C2')?.confidence).toBe('sure');
  });

  it('is a guess where nothing says which', () => {
    expect(read('1-4')).toEqual([1, 4, 'guess']);
    expect(read('1 to 4')).toEqual([null, 1, 'likely']);
  });
});

describe('counts', () => {
  it.each([
    ['Universe', 'U2', 'universe', 2],
    ['Universe', 'U-1', 'universe', 1],
    ['Universe', '2.0', 'universe', 2],
    ['Footprint', '9 ch', 'footprint', 9],
    ['Footprint', 600, 'footprint', 600],
    ['Footprint', '600 ch', 'footprint', 600],
    ['Footprint', 0, 'footprint', null],
    ['Footprint', -1, 'footprint', null],
    ['Channels', '5ch', 'footprint', 5],
    ['Universe', 1.5, 'universe', null],
  ] as const)('%s %s', (header, cell, field, value) => {
    const project = readRowsOf([
      ['Tag', 'Type', header],
      ['A', 'T', cell],
    ]);
    expect(project.fixtures[0]?.[field]).toBe(value);
    if (value === null) expect(readingAt(project, 'Schedule!C2')?.confidence).toBe('refused');
  });

  it('tell of a footprint over 512 slots', () => {
    const project = readRowsOf([
      ['Tag', 'Footprint'],
      ['A', 600],
    ]);
    expect(readingAt(project, 'Schedule!B2')).toMatchObject({ value: 600, confidence: 'sure' });
  });
});
