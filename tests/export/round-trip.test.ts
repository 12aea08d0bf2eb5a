/**
 * Our own export read back: equal tags, values, locks and ids. The files are written by openpyxl
 * (tests/files/demo/make.py, tests/files/second-job/make.py), never by the program.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readSourceFile } from '../../src-main/workbook/read-file.ts';
import { writeMarkedUpWorkbook } from '../../src-main/workbook/write-workbook.ts';
import type { ColumnId } from '../../src-shared/columns/column-table.ts';
import { applyCommand } from '../../src-shared/document/apply.ts';
import type { Command } from '../../src-shared/document/change.ts';
import { type CellValue, editCell } from '../../src-shared/document/edit-cell.ts';
import { insertAfter, removeFixtures, setLock } from '../../src-shared/document/edit-rows.ts';
import type { Fixture, Project } from '../../src-shared/document/project.ts';
import { readSchedule } from '../../src-shared/exchange/read-schedule.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';
import { hazardJob } from './hazard-job.ts';

const bytesOf = (path: string) => readFileSync(new URL(path, import.meta.url));
const demoFile = '../../src-main/demo/foxglove-roundhouse.xlsx';
const secondFile = '../files/second-job/thistlemere-aqueduct.xlsx';

function read(bytes: Uint8Array, name: string): Project {
  const file = readSourceFile(bytes, name);
  if (!file.ok || file.kind !== 'workbook') throw new Error(JSON.stringify(file));
  const schedule = readSchedule(file.workbook, {});
  if (!schedule.ok) throw new Error(JSON.stringify(schedule.refusal));
  return schedule.project;
}

const roundTrip = async (project: Project) =>
  read(await writeMarkedUpWorkbook(project, { date: '2031-05-04' }), 'marked-up.xlsx');

function done(project: Project, command: Command): Project {
  const applied = applyCommand(project, command);
  if (!applied.ok) throw new Error(applied.reason);
  return applied.project;
}

function edited(project: Project, tag: string, column: ColumnId, value: CellValue): Project {
  const id = project.fixtures.find((f) => f.tag === tag)?.id ?? '';
  const edit = editCell(project, id, column, value);
  if (!edit.ok) throw new Error(edit.reason);
  return done(project, edit.command);
}

const idOf = (project: Project, tag: string) =>
  project.fixtures.find((f) => f.tag === tag)?.id ?? '';

/** A fixture without where it stood in the file. */
function said({ origin: _origin, ...fixture }: Fixture) {
  return fixture;
}

/** Runs with their circuits written out: circuit ids are names of ours. */
function runsOf(project: Project) {
  return project.runs.map(({ circuitId, ...run }) => {
    const circuit = project.circuits.find((c) => c.id === circuitId);
    return { ...run, circuit: { ...circuit, id: null } };
  });
}

function expectSame(back: Project, project: Project): void {
  expect(back.fixtures.map(said)).toEqual(project.fixtures.map(said));
  expect(runsOf(back)).toEqual(runsOf(project));
  expect(back.types).toEqual(project.types);
  expect(back.lines).toEqual(project.lines);
  expect(back.supplies).toEqual(project.supplies);
  expect(back.settings).toEqual(project.settings);
  expect([back.name, back.revision]).toEqual([project.name, project.revision]);
  const findings = (p: Project) =>
    new EngineSession(p).findings.map(({ id, severity, value }) => ({ id, severity, value }));
  expect(findings(back)).toEqual(findings(project));
  const headers = (p: Project) => p.source?.columns.map((c) => c.header);
  expect(headers(back)?.slice(0, headers(project)?.length)).toEqual(headers(project));
}

describe.each([
  ['the demo', demoFile],
  ['the second job', secondFile],
])('%s', (_, path) => {
  const project = read(bytesOf(path), 'job.xlsx');

  it('comes back as it was', async () => {
    expectSame(await roundTrip(project), project);
  });

  it('comes back a second time, with no more columns', async () => {
    const once = await roundTrip(project);
    const twice = await roundTrip(once);
    expectSame(twice, project);
    expect(twice.source?.columns.map((c) => c.header)).toEqual(
      once.source?.columns.map((c) => c.header),
    );
  });
});

describe('the demo, worked on', () => {
  const demo = read(bytesOf(demoFile), 'demo.xlsx');

  it('comes back with edited values', async () => {
    let project = edited(demo, 'A-04', 'span', 4.2672);
    project = edited(project, 'A-05', 'span', 3.7);
    project = edited(project, 'A-06', 'remarks', '=SUM(A1)');
    project = edited(project, 'A-07', 'remarks', null);
    project = edited(project, 'A-08', 'load', 60.5);
    project = edited(project, 'A-09', 'powerFactor', 0.9);
    project = edited(project, 'A-09', 'mode', '9ch');
    project = edited(project, 'A-10', 'tag', '0123');
    project = edited(project, 'B-01', 'homeRun', 33.3);
    project = edited(project, 'C-01', 'supply', 600);
    project = edited(project, 'D-03', 'breaker', 15);
    project = edited(project, 'D-14', 'address', 163);
    project = edited(project, 'A-20', 'circuit', '7,9');
    project = edited(project, 'A-11', 'installed', 9.1);
    expectSame(await roundTrip(project), project);
  });

  it('comes back with locks of fixtures and runs', async () => {
    let project = done(
      demo,
      setLock(demo, [idOf(demo, 'A-04'), idOf(demo, 'B-02')], 'address', true),
    );
    project = done(project, setLock(project, [idOf(project, 'A-04')], 'universe', true));
    project = done(project, {
      label: 'lock',
      changes: [
        { kind: 'set', table: 'runs', key: 'B1', field: 'locks', value: ['homeRun', 'circuit'] },
      ],
    });
    const back = await roundTrip(project);
    expect(back.fixtures.find((f) => f.tag === 'A-04')?.locks).toEqual(['address', 'universe']);
    expectSame(back, project);
  });

  it('comes back with rows put in, taken out and moved to another run', async () => {
    const inserted = insertAfter(demo, idOf(demo, 'A-03'));
    if (inserted === null) throw new Error('not inserted');
    let project = done(demo, inserted);
    project = done(
      project,
      removeFixtures(project, [idOf(project, 'B-07'), idOf(project, 'B-08')]),
    );
    project = edited(project, 'A-36', 'run', 'A2');
    expectSame(await roundTrip(project), project);
  });

  it('comes back without the addresses that were only proposed', async () => {
    const project = {
      ...demo,
      fixtures: demo.fixtures.map((f) =>
        f.run === 'B1' ? { ...f, universe: null, address: null } : f,
      ),
    };
    const back = await roundTrip(project);
    expect(back.fixtures.find((f) => f.tag === 'B-01')).toMatchObject({
      universe: null,
      address: null,
    });
    expectSame(back, project);
  });
});

describe('a job made new', () => {
  it('comes back from columns of ours alone', async () => {
    const { source: _source, ...demo } = read(bytesOf(demoFile), 'demo.xlsx');
    const project: Project = {
      ...demo,
      source: null,
      assumptions: [],
      fixtures: demo.fixtures.map((f) => ({ ...f, origin: null })),
    };
    const back = await roundTrip(project);
    expect(back.fixtures.map(said)).toEqual(project.fixtures.map(said));
    expect(runsOf(back)).toEqual(runsOf(project));
  });
});

describe('texts that go wrong in workbooks', () => {
  it('come back unchanged where the import keeps texts as they are', async () => {
    const back = await roundTrip(hazardJob());
    const place = back.source?.columns.findIndex((c) => c.header === '__proto__') ?? -1;
    const raw = back.fixtures.map((f) => f.origin?.cells[place]);
    expect(raw).toEqual(hazardJob().fixtures.map((f) => f.tag));
  });
});
