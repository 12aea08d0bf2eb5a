/** Runs, places, circuits and what rows say otherwise. Rules: the check command's contract; cases invented. */
import { describe, expect, it } from 'vitest';
import { type CellInput, readingAt, readingsOf, readRowsOf } from './build-workbook.ts';

const header = [
  'Tag',
  'Run',
  'Place',
  'Span m',
  'Lead-in m',
  'Home run m',
  'Supply V',
  'Panel',
  'Circuit',
  'Breaker A',
  'Protection',
  'Line',
  'Conductor',
];

describe('values of a run', () => {
  it('come from the first row in order of place that gives one', () => {
    const project = readRowsOf([
      header,
      ['C', 'R', 3, 2, null, 30, 240, null, null, 10, null, 'X', null],
      ['A', 'R', 1, 1, null, null, 230, 'DB', '1', null, null, null, null],
      ['B', 'R', 2, 2, 5, 12, null, null, null, 16, 'RCD 30 mA', 'T25', '4 mm²'],
    ]);
    expect(project.runs).toMatchObject([
      { name: 'R', supplyV: 230, homeRunM: 12, leadInM: 5, line: 'T25', conductor: '4 mm²' },
    ]);
    expect(project.circuits).toEqual([
      { id: 'c1', panel: 'DB', name: '1', breakerA: 16, protection: 'RCD 30 mA' },
    ]);
    expect(project.fixtures.map((f) => [f.tag, f.differing])).toEqual([
      ['C', { homeRunM: 30, supplyV: 240, breakerA: 10, line: 'X' }],
      ['A', null],
      ['B', null],
    ]);
  });

  it('said again in other words are the same', () => {
    const project = readRowsOf([
      header,
      ['A', 'R', 1, 1, null, 12, 230, 'DB-A', '1,3', null, 'RCD  30 mA', null, '12 AWG'],
      ['B', 'R', 2, 1, null, '1200 cm', 230, 'db-a', '1, 3', null, 'rcd 30 mA', null, '#12'],
    ]);
    expect(project.fixtures[1]?.differing).toBeNull();
  });

  it('place 1 keeps its span when there is no lead-in', () => {
    const project = readRowsOf([header, ['A', 'R', 1, 4], ['B', 'R', 2, 2]]);
    expect(project.runs[0]?.leadInM).toBeNull();
    expect(project.fixtures[0]?.spanM).toBe(4);
  });
});

describe('circuits', () => {
  const row = (tag: string, run: string, rest: CellInput[]): CellInput[] => [
    tag,
    run,
    1,
    1,
    null,
    null,
    230,
    ...rest,
  ];

  it('are one for all runs that name panel and circuit alike', () => {
    const project = readRowsOf([
      header,
      row('A', 'R1', ['DB-A', 1, 16]),
      row('B', 'R2', ['DB-A', '1', null]),
      row('C', 'R3', ['DB-B', 1, null]),
      row('D', 'R4', ['DB-A', '1,3', null]),
      row('E', 'R5', ['DB-A', '3, 1', null]),
    ]);
    expect(project.runs.map((r) => r.circuitId)).toEqual(['c1', 'c1', 'c2', 'c3', 'c4']);
    expect(project.circuits[0]).toMatchObject({ panel: 'DB-A', name: '1', breakerA: 16 });
  });

  it('are one of its own for each run that names none', () => {
    const project = readRowsOf([
      header,
      row('A', 'R1', ['DB-A', null, 16]),
      row('B', 'R2', ['DB-A', null, 16]),
    ]);
    expect(project.circuits).toEqual([
      { id: 'c1', panel: 'DB-A', name: null, breakerA: 16, protection: null },
      { id: 'c2', panel: 'DB-A', name: null, breakerA: 16, protection: null },
    ]);
  });

  it('hold breaker and protection: another run that says otherwise differs', () => {
    const project = readRowsOf([
      header,
      row('A', 'R1', ['DB', 1, 16, 'RCD 30 mA']),
      row('B', 'R2', ['DB', 1, 10, 'RCD 100 mA']),
    ]);
    expect(project.circuits).toHaveLength(1);
    expect(project.fixtures.map((f) => f.differing)).toEqual([
      null,
      { breakerA: 10, protection: 'RCD 100 mA' },
    ]);
  });

  it('keep their name as written, a number with a point told', () => {
    const project = readRowsOf([
      header,
      row('A', 'R1', ['DB', 1.3]),
      row('B', 'R2', ['DB', '14,16']),
    ]);
    expect(project.circuits.map((c) => c.name)).toEqual(['1.3', '14,16']);
    expect(readingAt(project, 'Schedule!I2')?.confidence).toBe('guess');
  });

  it('eaten by a date are refused', () => {
    const date: CellInput = { text: '1-Mar', value: '2031-03-01', kind: 'date' };
    const project = readRowsOf([header, row('A', 'R1', ['DB', date])]);
    expect(project.circuits[0]?.name).toBeNull();
    expect(readingAt(project, 'Schedule!I2')?.confidence).toBe('refused');
  });

  it('carry their panel where there is no column for it', () => {
    const project = readRowsOf([
      ['Tag', 'Run', 'Panel/circuit'],
      ['A', 'R', 'LP-3/14,16'],
    ]);
    expect(project.circuits[0]).toMatchObject({ panel: 'LP-3', name: '14,16' });
    expect(readingAt(project, 'Schedule!C2')?.confidence).toBe('likely');
    expect(project.supplies.map((s) => s.name)).toEqual(['LP-3']);
  });
});

describe('places', () => {
  const read = (places: readonly (number | null)[]) => {
    const rows = places.map((place, i) => [`F${i}`, 'R', place]);
    const project = readRowsOf([['Tag', 'Run', 'Place'], ...rows]);
    return { project, places: project.fixtures.map((f) => f.place) };
  };

  it('missing everywhere follow the order of rows: one reading a run', () => {
    const project = readRowsOf([
      ['Tag', 'Run'],
      ['A', 'R1'],
      ['B', 'R2'],
      ['C', 'R1'],
      ['D', null],
    ]);
    expect(project.fixtures.map((f) => [f.run, f.place])).toEqual([
      ['R1', 1],
      ['R2', 1],
      ['R1', 2],
      [null, null],
    ]);
    expect(readingsOf(project).filter((r) => r.column === 'place')).toHaveLength(2);
  });

  it('missing here and there are filled by the order of rows, as a guess', () => {
    expect(read([1, null, 3]).places).toEqual([1, 2, 3]);
    expect(read([3, null, 1]).places).toEqual([3, 4, 1]);
    expect(readingAt(read([1, null, 3]).project, 'Schedule!C3')?.confidence).toBe('guess');
  });

  it('written stay as written', () => {
    const { places, project } = read([2, 2, 7]);
    expect(places).toEqual([2, 2, 7]);
    expect(readingsOf(project)).toEqual([]);
  });
});

describe('names of runs', () => {
  it('that differ in case or blanks are one, told', () => {
    const project = readRowsOf([
      ['Tag', 'Run', 'Place'],
      ['A', 'R1', 1],
      ['B', 'r1 ', 2],
    ]);
    expect(project.runs.map((r) => r.name)).toEqual(['R1']);
    expect(project.fixtures.map((f) => f.run)).toEqual(['R1', 'R1']);
    expect(readingAt(project, 'Schedule!B3')?.value).toBe('R1');
  });

  it('dashes name no run', () => {
    const project = readRowsOf([
      ['Tag', 'Type', 'Run'],
      ['A', 'T', '–'],
    ]);
    expect(project.runs).toEqual([]);
    expect(project.fixtures[0]?.run).toBeNull();
  });
});
