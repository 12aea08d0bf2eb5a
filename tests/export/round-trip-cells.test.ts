/**
 * Awkward cells through our own export and back: equal values, locks, ids and unread columns. Cases
 * invented; xw.xlsx is written by XlsxWriter (tests/files/workbook/make.py), never by the program.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readSourceFile } from '../../src-main/workbook/read-file.ts';
import { writeMarkedUpWorkbook } from '../../src-main/workbook/write-workbook.ts';
import type { ColumnId } from '../../src-shared/columns/column-table.ts';
import { applyCommand } from '../../src-shared/document/apply.ts';
import { editCell } from '../../src-shared/document/edit-cell.ts';
import type { Project } from '../../src-shared/document/project.ts';
import type { SourceSheet } from '../../src-shared/document/source-workbook.ts';
import { isMarked, type MarkedCell } from '../../src-shared/exchange/export/export-table.ts';
import { scheduleTable } from '../../src-shared/exchange/export/schedule-table.ts';
import { readSchedule } from '../../src-shared/exchange/read-schedule.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';
import {
  answersFor,
  readBook,
  readRowsOf,
  sheetOf,
  workbookOf,
} from '../exchange/build-workbook.ts';

function readBytes(bytes: Uint8Array, name: string): Project {
  const file = readSourceFile(bytes, name);
  if (!file.ok || file.kind !== 'workbook') throw new Error(JSON.stringify(file));
  const schedule = readSchedule(file.workbook, {});
  if (!schedule.ok) throw new Error(JSON.stringify(schedule.refusal));
  return schedule.project;
}

const exported = async (project: Project) =>
  readBytes(await writeMarkedUpWorkbook(project), 'm.xlsx');

async function expectSame(project: Project): Promise<Project> {
  const back = await exported(project);
  const said = (p: Project) => p.fixtures.map(({ origin: _origin, ...fixture }) => fixture);
  expect(said(back)).toEqual(said(project));
  const runs = (p: Project) =>
    p.runs.map(({ circuitId, ...run }) => {
      const circuit = p.circuits.find((c) => c.id === circuitId);
      return { ...run, circuit: { ...circuit, id: null } };
    });
  expect(runs(back)).toEqual(runs(project));
  const known = (p: Project) =>
    p.source?.columns.filter((c) => c.columnId !== null && c.columnId !== 'quantity');
  const ids = (p: Project) => new Map(known(p)?.map((c) => [c.header, [c.columnId, c.unit]]));
  for (const [header, id] of ids(project))
    expect([header, ids(back).get(header)]).toEqual([header, id]);
  return back;
}

function markAt(project: Project, header: string, row: number): MarkedCell | null {
  const table = scheduleTable(project, new EngineSession(project));
  const place = table.columns.findIndex((column) => column.header === header);
  const cell = table.rows[row]?.[place] ?? null;
  return isMarked(cell) ? cell : null;
}

const schedule = [
  ['Tag', 'Type', 'Run', 'Electrical', null, 'Control', null, null],
  [null, null, null, 'Load W', 'V', 'Univ', 'Start', 'Ch'],
  ['G1', 'F1', 'R', '2,40', 230, 1, 1, 4],
  ['G2', 'F1', 'R', '2,50', null, 1, 5, 4],
  ['G3', 'F1', 'R', '3,10', null, 1, 9, 4],
];
const merged = (firstColumn: number, lastColumn: number, lastRow = 1) => ({
  firstRow: 1,
  lastRow,
  firstColumn,
  lastColumn,
});

function edited(project: Project, row: number, column: ColumnId, value: string | number | null) {
  const edit = editCell(project, project.fixtures[row]?.id ?? '', column, value);
  if (!edit.ok) throw new Error(edit.reason);
  const applied = applyCommand(project, edit.command);
  if (!applied.ok) throw new Error(applied.reason);
  return applied.project;
}

describe('a two-row header', () => {
  it.each<[string, (typeof schedule)[number][], SourceSheet['merges']]>([
    ['merged', schedule, [merged(0, 0, 2), merged(3, 4), merged(5, 7)]],
    ['not merged', schedule, []],
    [
      'of labels alone',
      [
        [null, null, null, 'Electrical', null, 'Control', null, null],
        ['Tag', 'Type', 'Run', ...(schedule[1]?.slice(3) ?? [])],
        ...schedule.slice(2),
      ],
      [],
    ],
  ])('%s comes back', async (_, rows, merges) => {
    const read = readRowsOf(rows, { merges });
    const locked = {
      ...read,
      fixtures: read.fixtures.map((f, i) => (i === 1 ? { ...f, locks: ['address'] } : f)),
    };
    const back = await expectSame(locked);
    expect(back.source?.columns.find((c) => c.header === 'Control / Start')?.columnId).toBe(
      'address',
    );
    await expectSame(back);
  });

  it('comes back by way of csv', () => {
    const header = [
      'Tag',
      'Type',
      'Run',
      'Electrical / Load W',
      'Electrical / V',
      'Control / Univ',
    ];
    const lines = [header.join(','), 'G1,F1,R,2.4,230,1', 'G2,F1,R,2.5,,1'];
    const project = readBytes(new TextEncoder().encode(lines.join('\n')), 'job.csv');
    expect(project.source?.columns.map((c) => c.columnId)).toEqual([
      'tag', 'type', 'run', 'load', 'supply', 'universe',
    ]); // biome-ignore format: a list
    expect(project.fixtures.map((f) => f.loadW)).toEqual([2.4, 2.5]);
  });

  it('of another writer comes back', async () => {
    const bytes = readFileSync(new URL('../files/workbook/xw.xlsx', import.meta.url));
    const project = readBytes(new Uint8Array(bytes), 'xw.xlsx');
    expect(project.source?.columns.map((c) => c.header)).toContain('Electrical / Power (kW)');
    await expectSame(project);
  });
});

const struck = (value: string | number) => ({
  text: String(value),
  value,
  kind: typeof value === 'number' ? ('number' as const) : ('text' as const),
  struck: true as const,
});

describe('a struck-through cell of a live row', () => {
  const header = ['Tag', 'Type', 'Run', 'Place', 'Load W', 'Span ft', 'Mode', 'Start', 'Supply V'];
  const project = readRowsOf([
    header,
    ['A', 'T', 'R', 1, struck(87), '10 ft', '9ch', 1, 277],
    ['B', 'T', 'R', 2, '87 W', struck('10 ft'), struck('9ch'), struck(10), struck(120)],
    [struck('C'), 'T', 'R', 3, 87, 10, '9ch', 19, null],
    ['D', 'T', null, null, 87, 10, '9ch', 28, struck(120)],
  ]);

  it('does not come alive again', async () => {
    expect(project.fixtures.map((f) => f.loadW)).toEqual([null, 87, 87, 87]);
    expect(project.fixtures.map((f) => f.tag)).toEqual(['A', 'B', null, 'D']);
    await expectSame(await expectSame(project));
  });

  it('is written blank, outlined, with a note', () => {
    expect(markAt(project, 'Load W', 0)).toMatchObject({ value: null, changed: true });
    expect(markAt(project, 'Load W', 0)?.note).toContain('Struck through in the source: 87');
    expect(markAt(project, 'Span ft', 1)).toMatchObject({ value: null, changed: true });
  });
});

it('a tag or circuit as its number format shows it comes back as shown', async () => {
  const shown = (text: string, value: number) => ({ text, value, kind: 'number' as const });
  const date = { text: '4-Mar', value: '2031-03-04', kind: 'date' as const };
  const project = readRowsOf([
    ['Tag', 'Type', 'Run', 'Circuit', 'Conductor'],
    [shown('1.50', 1.5), 'T', 'R', shown('1.30', 1.3), 12],
    [date, 'T', 'S', null, null],
  ]);
  expect(project.fixtures.map((f) => f.tag)).toEqual(['1.50', '4-Mar']);
  await expectSame(project);
});

it('a cell left blank in the import report stays blank', async () => {
  const book = workbookOf(
    sheetOf([
      ['Tag', 'Type', 'Load W', 'Start'],
      ['A', 'T', '87 W', 2.1],
      ['B', 'T', '60 W', 'tbc'],
    ]),
  );
  const answers = answersFor(
    ['Schedule!C2', '87 W', null],
    ['Schedule!D2', '2.1', null],
    ['Schedule!C3', '60 W', 'see sheet 4'],
    ['Schedule!D3', 'tbc', '2/10'],
  );
  const { project } = readBook(book, { answers });
  expect(project.fixtures).toMatchObject([
    { loadW: null, address: null, unread: [] },
    { loadW: null, universe: 2, address: 10, unread: ['load'] },
  ]);
  await expectSame(project);
});

describe('a cell that could not be read', () => {
  const header = [
    'Tag', 'Type', 'Run', 'Place', 'Load W', 'Start', 'Conductor', 'Supply V', 'Mode', 'Footprint',
  ]; // biome-ignore format: a list
  const rows = [
    ['A', 'T', 'R', 1, 'see sheet 4', 2.1, 'as per spec', 'mains', '#N/A', 600],
    ['B', 'T', 'R', 2, '"', 'tbc', null, 277, '9ch', 'lots'],
    ['C', 'T', 'R', 3, { text: '', value: null, formula: 'A1*2' }, 0, null, null, '9ch', 9],
    ['D', 'T', 'R', 4, 40, -3, '12 AWG', null, '9ch', 9],
    ['E', 'T', 'S', 1, 40, '2/1', 'copper', 'mains', '9ch', 9],
    ['F', 'T', 'S', 2, 40, '2/10', null, null, '9ch', 9],
  ];
  const project = readRowsOf([header, ...rows]);

  it('comes back unread', async () => {
    expect(project.fixtures.map((f) => f.unread)).toEqual([
      ['load', 'supply', 'conductor', 'universe', 'address', 'mode'],
      ['load', 'universe', 'address', 'footprint'],
      ['load'],
      [],
      ['supply', 'conductor'],
      [],
    ]);
    await expectSame(await expectSame(project));
  });

  it('says what it said, as in the source', () => {
    const table = scheduleTable(project, new EngineSession(project));
    const column = (name: string) => table.columns.findIndex((c) => c.header === name);
    const cellOf = (name: string, row: number) => {
      const cell = table.rows[row]?.[column(name)] ?? null;
      return isMarked(cell) ? [cell.value, cell.changed] : [cell, false];
    };
    expect(cellOf('Load W', 0)).toEqual(['see sheet 4', false]);
    expect(cellOf('Start', 0)).toEqual([2.1, false]);
    expect(cellOf('Conductor', 0)).toEqual(['as per spec', false]);
    expect(cellOf('Load W', 2)).toEqual(['#N/A', true]);
  });

  it('comes back where a merged area or a ditto mark repeats it', async () => {
    const merges = [{ firstRow: 2, lastRow: 3, firstColumn: 2, lastColumn: 2 }];
    const repeated = readRowsOf(
      [
        ['Tag', 'Type', 'Load W'],
        ['A', 'T', 'see sheet 4'],
        ['B', 'T'],
        ['C', 'T', '"'],
        ['D', 'T'],
      ],
      { merges },
    );
    expect(repeated.fixtures.map((f) => f.unread)).toEqual([['load'], ['load'], ['load'], []]);
    await expectSame(await expectSame(repeated));
    await expectSame(edited(repeated, 0, 'load', 55));
  });

  it('gives way to what is typed in its place', async () => {
    let worked = edited(project, 0, 'load', 55);
    worked = edited(worked, 5, 'supply', 120);
    worked = edited(worked, 4, 'conductor', '10 AWG');
    worked = edited(worked, 1, 'address', 30);
    const back = await expectSame(worked);
    expect(back.runs.map((r) => [r.supplyV, r.conductor])).toEqual([
      [277, '12 AWG'],
      [120, '10 AWG'],
    ]);
    // Typed and taken out again: blank, not the old words.
    await expectSame(edited(worked, 0, 'load', null));
  });
});

it('a home run conductor and a data output of a run come back', async () => {
  const read = readRowsOf([
    ['Tag', 'Type', 'Run', 'Place', 'Data output'],
    ['A', 'T', 'R', 1, 'own words'],
    ['B', 'T', 'R', 2, null],
    ['C', 'T', 'S', 1, null],
  ]);
  const [first, second] = read.runs;
  if (first === undefined || second === undefined) throw new Error('no runs');
  const project = {
    ...read,
    runs: [
      { ...first, homeRunConductor: '8 AWG', dataOutput: 'SP-1.3' },
      { ...second, dataOutput: 'SP-1.3' },
    ],
  };
  const back = await expectSame(project);
  expect(back.fixtures[0]?.origin?.cells).toContain('own words');
  await expectSame(read);
});
