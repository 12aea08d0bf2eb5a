/** What becomes of the engineer's own cells. Small schedules, invented, each built for its case. */
import { describe, expect, it } from 'vitest';
import {
  blankCircuit,
  blankFixture,
  blankProject,
  blankRun,
} from '../../src-shared/document/blank.ts';
import type {
  Fixture,
  Project,
  Reading,
  Run,
  SourceColumn,
} from '../../src-shared/document/project.ts';
import { scheduleTable } from '../../src-shared/exchange/export/schedule-table.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';
import { singleSource } from '../exchange/single-source.ts';
import { columnOf, headersOf, markAt, valueAt } from './table-reading.ts';

type Raw = string | number | boolean | null;

interface Wanted {
  /** Header, column id, unit of the header. */
  readonly columns: readonly (readonly [header: string, id: string | null, unit?: string])[];
  readonly rows: readonly (readonly [raw: readonly Raw[], fixture: Partial<Fixture>])[];
  readonly runs?: readonly Partial<Run>[];
  readonly readings?: readonly Reading[];
}

function project({ columns, rows, runs = [], readings = [] }: Wanted): Project {
  const source: SourceColumn[] = columns.map(([header, columnId, unit]) => ({
    header,
    columnId,
    unit: unit ?? null,
  }));
  return {
    ...blankProject('Small job'),
    circuits: [blankCircuit('c1')],
    runs: runs.map((run) => ({ ...blankRun('R1', 'c1'), ...run })),
    fixtures: rows.map(([cells, fixture], i) => ({
      ...blankFixture(`f${i + 1}`),
      ...fixture,
      origin: { file: 0, sheet: 'Sheet', row: i + 2, cells },
    })),
    source: singleSource({
      fileName: 'small.xlsx',
      sheet: 'Sheet',
      headerRow: 1,
      columns: source,
      rowsRead: rows.length,
      rowsSkipped: [],
      readings,
    }),
  };
}

const tableOf = (p: Project) => scheduleTable(p, new EngineSession(p));

const ft = (feet: number) => (feet * 3048) / 10000;

describe('a cell that was not edited', () => {
  const p = project({
    columns: [
      ['Tag', 'tag'],
      ['Spacing', 'span'],
      ['Load', 'load'],
      ['UL', 'unitLoad'],
      ['Wire', 'conductor'],
      ['Surveyor', null],
      ['Done', null],
    ],
    rows: [
      [
        ['A-1', `12'-6"`, '87W', '1/2', '#12 AWG', '=cmd', true],
        { tag: 'A-1', run: 'R1', spanM: ft(12.5), loadW: 87, unitLoad: 0.5 },
      ],
      [
        ['  A-2 ', '3,81 m', 87, 0.5, null, '-x', false],
        { tag: 'A-2', run: 'R1', spanM: 3.81, loadW: 87, unitLoad: 0.5 },
      ],
    ],
    runs: [{ conductor: '12 AWG' }],
  });
  const table = tableOf(p);

  it('keeps what the file had, units and all, columns and headers as they were', () => {
    expect(headersOf(table).slice(0, 7)).toEqual([
      'Tag',
      'Spacing',
      'Load',
      'UL',
      'Wire',
      'Surveyor',
      'Done',
    ]);
    expect(columnOf(table, 'Spacing')).toEqual([`12'-6"`, '3,81 m']);
    expect(columnOf(table, 'Load')).toEqual(['87W', 87]);
    expect(columnOf(table, 'UL')).toEqual(['1/2', 0.5]);
    expect(columnOf(table, 'Tag')).toEqual(['A-1', '  A-2 ']);
  });

  it('carries columns the import does not know', () => {
    expect(columnOf(table, 'Surveyor')).toEqual(['=cmd', '-x']);
    expect(columnOf(table, 'Done')).toEqual([true, false]);
  });

  it('has no outline', () => {
    for (const header of ['Tag', 'Spacing', 'Load', 'UL', 'Wire']) {
      expect(markAt(table, 'Tag', 'A-1', header).changed, header).toBe(false);
    }
  });
});

describe('an edited cell', () => {
  it.each([
    ['ft', 'ft', 12, ft(14), 14],
    ['mm', 'mm', 3810, 4.2, 4200],
    ['m', 'm', 3.81, ft(14), 4.2672],
    ['in', 'in', 150, 4.2672, 168],
  ])('is a number in the unit of its header (%s)', (_, unit, raw, spanM, expected) => {
    const p = project({
      columns: [
        ['Tag', 'tag'],
        ['Spacing', 'span', unit],
      ],
      rows: [[['A-1', raw], { tag: 'A-1', spanM }]],
    });
    const mark = markAt(tableOf(p), 'Tag', 'A-1', 'Spacing');
    expect(mark.value).toBe(expected);
    expect(mark.changed).toBe(true);
    expect(mark.note).toContain(`which had: ${raw}`);
  });

  it('is in the unit the bare numbers of its column were read in', () => {
    const p = project({
      columns: [
        ['Tag', 'tag'],
        ['Spacing', 'span'],
      ],
      rows: [
        [['A-1', 12], { tag: 'A-1', spanM: ft(12) }],
        [['A-2', 12], { tag: 'A-2', spanM: ft(12) }],
        // Edited to twelve metres: the raw 12 would be read as feet again.
        [['A-3', 12], { tag: 'A-3', spanM: 12 }],
      ],
    });
    const table = tableOf(p);
    expect(columnOf(table, 'Spacing').slice(0, 2)).toEqual([12, 12]);
    const edited = valueAt(table, 'Tag', 'A-3', 'Spacing');
    expect(((edited as number) * 3048) / 10000).toBe(12);
  });

  it('says its unit where its column never held a bare number', () => {
    const p = project({
      columns: [
        ['Tag', 'tag'],
        ['Spacing', 'span'],
      ],
      rows: [[['A-1', '12 ft'], { tag: 'A-1', spanM: ft(13) }]],
    });
    expect(valueAt(tableOf(p), 'Tag', 'A-1', 'Spacing')).toBe('13 ft');
  });

  it('says watts under a header that says amps or volt-amperes', () => {
    const p = project({
      columns: [
        ['Tag', 'tag'],
        ['Load VA', 'load', 'VA'],
      ],
      rows: [[['A-1', 92], { tag: 'A-1', loadW: 60 }]],
    });
    expect(valueAt(tableOf(p), 'Tag', 'A-1', 'Load VA')).toBe('60 W');
  });

  it('that was cleared is empty, and its note has the old text', () => {
    const p = project({
      columns: [
        ['Tag', 'tag'],
        ['Note', 'remarks'],
      ],
      rows: [[['A-1', 'by crane'], { tag: 'A-1', remarks: null }]],
    });
    const mark = markAt(tableOf(p), 'Tag', 'A-1', 'Note');
    expect([mark.value, mark.changed]).toEqual([null, true]);
    expect(mark.note).toContain('by crane');
  });

  it('that was empty says so', () => {
    const p = project({
      columns: [
        ['Tag', 'tag'],
        ['Mode', 'mode'],
      ],
      rows: [[['A-1', null], { tag: 'A-1', mode: '4ch' }]],
    });
    const mark = markAt(tableOf(p), 'Tag', 'A-1', 'Mode');
    expect([mark.value, mark.changed]).toEqual(['4ch', true]);
    expect(mark.note).toContain('left this cell empty');
  });
});

describe('what a cell says without a value', () => {
  it('keeps a dash, and a text that could not be read', () => {
    const p = project({
      columns: [
        ['Tag', 'tag'],
        ['Mode', 'mode'],
        ['Load W', 'load', 'W'],
      ],
      rows: [[['A-1', '-', 'see Dave'], { tag: 'A-1', unread: ['load'] }]],
    });
    const table = tableOf(p);
    expect(valueAt(table, 'Tag', 'A-1', 'Mode')).toBe('-');
    expect(markAt(table, 'Tag', 'A-1', 'Load W')).toMatchObject({
      value: 'see Dave',
      changed: false,
    });
  });

  it('fills ditto marks and blanks below them, without calling that a change', () => {
    const p = project({
      columns: [
        ['Tag', 'tag'],
        ['Area', 'area'],
      ],
      rows: [
        [['A-1', 'North'], { tag: 'A-1', area: 'North' }],
        [['A-2', '"'], { tag: 'A-2', area: 'North' }],
        [['A-3', null], { tag: 'A-3', area: 'North' }],
      ],
    });
    const table = tableOf(p);
    expect(columnOf(table, 'Area')).toEqual(['North', 'North', 'North']);
    expect(markAt(table, 'Tag', 'A-3', 'Area').changed).toBe(false);
  });

  it('keeps a text whose reading is the value still', () => {
    const reading: Reading = {
      cell: 'Sheet!B2',
      raw: '208/1',
      column: 'supply',
      value: 208,
      confidence: 'likely',
      note: '',
    };
    const p = project({
      columns: [
        ['Tag', 'tag'],
        ['Volts', 'supply'],
      ],
      rows: [[['A-1', '208/1'], { tag: 'A-1', run: 'R1', place: 1 }]],
      runs: [{ supplyV: 208 }],
      readings: [reading],
    });
    expect(markAt(tableOf(p), 'Tag', 'A-1', 'Volts')).toMatchObject({
      value: '208/1',
      changed: false,
    });
  });
});

describe('one source row of several fixtures', () => {
  it('becomes rows of one fixture each', () => {
    const base = project({
      columns: [
        ['Tag', 'tag'],
        ['Qty', 'quantity'],
      ],
      rows: [
        [['A', 2], { tag: 'A-1' }],
        [['A', 2], { tag: 'A-2' }],
      ],
    });
    const fixtures = base.fixtures.map((f) => ({
      ...f,
      origin: f.origin === null ? null : { ...f.origin, row: 2 },
    }));
    const table = tableOf({ ...base, fixtures });
    expect(columnOf(table, 'Tag')).toEqual(['A-1', 'A-2']);
    expect(columnOf(table, 'Qty')).toEqual([1, 1]);
    expect(markAt(table, 'Tag', 'A-1', 'Tag').note).toContain('which had: A');
  });
});

describe('values that hold for a run', () => {
  const wanted: Wanted = {
    columns: [
      ['Tag', 'tag'],
      ['Run', 'run'],
      ['Home run ft', 'homeRun', 'ft'],
      ['Volts', 'supply'],
    ],
    rows: [
      [['A-1', 'R1', null, 230], { tag: 'A-1', run: 'R1', place: 1 }],
      [['A-2', 'R1', 120, null], { tag: 'A-2', run: 'R1', place: 2 }],
      [['A-3', 'R1', null, 230], { tag: 'A-3', run: 'R1', place: 3 }],
    ],
    runs: [{ homeRunM: ft(120), supplyV: 230 }],
  };

  it('stand where the file had them and in the first row', () => {
    const table = tableOf(project(wanted));
    expect(columnOf(table, 'Home run ft')).toEqual([120, 120, null]);
    expect(columnOf(table, 'Volts')).toEqual([230, null, 230]);
    expect(markAt(table, 'Tag', 'A-1', 'Home run ft').changed).toBe(false);
  });

  it('change everywhere they stand', () => {
    const table = tableOf(project({ ...wanted, runs: [{ homeRunM: ft(90), supplyV: 240 }] }));
    expect(columnOf(table, 'Home run ft')).toEqual([90, 90, null]);
    expect(columnOf(table, 'Volts')).toEqual([240, null, 240]);
    expect(markAt(table, 'Tag', 'A-3', 'Volts')).toMatchObject({ changed: true });
  });

  it('keep a row that says something else', () => {
    const p = project(wanted);
    const fixtures = p.fixtures.map((f) =>
      f.id === 'f3' ? { ...f, differing: { supplyV: 400 } } : f,
    );
    expect(columnOf(tableOf({ ...p, fixtures }), 'Volts')).toEqual([230, null, 400]);
  });

  it('come into a column of ours where the file has none, in the first row of the run', () => {
    const p = project({ ...wanted, runs: [{ leadInM: ft(12), supplyV: 230, homeRunM: ft(120) }] });
    const fixtures = p.fixtures.map((f) =>
      f.id === 'f3' ? { ...f, differing: { leadInM: ft(9) } } : f,
    );
    expect(columnOf(tableOf({ ...p, fixtures }), 'Lead-in (ft)')).toEqual([12, null, 9]);
  });
});

describe('rows and columns that were not in the file', () => {
  it('come beside, and a new row says that it is one', () => {
    const base = project({
      columns: [['Tag', 'tag']],
      rows: [[['A-1'], { tag: 'A-1' }]],
    });
    const added = { ...blankFixture('f9'), tag: 'A-9', spanM: 3, loadW: 12 };
    const table = tableOf({ ...base, fixtures: [...base.fixtures, added] });
    expect(columnOf(table, 'Tag')).toEqual(['A-1', 'A-9']);
    expect(markAt(table, 'Tag', 'A-9', 'Tag')).toMatchObject({ changed: true });
    expect(columnOf(table, 'Watts (W)')).toEqual([null, 12]);
    expect(headersOf(table)).not.toContain('Quantity');
    expect(headersOf(table).at(-1)).toBe('Runledger id');
    expect(columnOf(table, 'Runledger id')).toEqual(['f1', 'f9']);
  });

  it('of an earlier export are not carried a second time', () => {
    const p = project({
      columns: [
        ['Tag', 'tag'],
        ['Volts here (V)', null],
        ['Findings', null],
        ['Runledger id', null],
      ],
      rows: [[['A-1', 207.1, 'S Wrong voltage', 'f1'], { tag: 'A-1' }]],
    });
    const headers = headersOf(tableOf(p));
    expect(headers.filter((h) => h.startsWith('Volts here'))).toEqual(['Volts here (V)']);
    expect(headers.filter((h) => h.startsWith('Findings'))).toEqual(['Findings']);
    expect(columnOf(tableOf(p), 'Volts here (V)')).toEqual([null]);
  });

  it('are all there is without a source', () => {
    const p: Project = {
      ...blankProject('New job'),
      settings: { ...blankProject('').settings, displayUnit: 'm' },
      circuits: [blankCircuit('c1')],
      runs: [{ ...blankRun('R1', 'c1'), supplyV: 230 }],
      fixtures: [{ ...blankFixture('f1'), tag: 'N-1', run: 'R1', place: 1, spanM: 2.5 }],
    };
    const table = tableOf(p);
    expect(table.name).toBe('Schedule');
    expect(headersOf(table).slice(0, 6)).toEqual([
      'Tag',
      'Type',
      'Run',
      'Place',
      'Span (m)',
      'Supply (V)',
    ]);
    expect(table.rows).toHaveLength(1);
    expect(valueAt(table, 'Tag', 'N-1', 'Span (m)')).toBe(2.5);
  });
});
