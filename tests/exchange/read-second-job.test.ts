/**
 * The second invented job, xlsx and csv. Expected: expected.json and make.py beside it, written by
 * someone who had not read the code.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readSourceFile } from '../../src-main/workbook/read-file.ts';
import type { Project } from '../../src-shared/document/project.ts';
import { columnIds, readBook, readingAt } from './build-workbook.ts';

const folder = new URL('../files/second-job/', import.meta.url);

function projectOf(name: string): Project {
  const bytes = new Uint8Array(readFileSync(new URL(name, folder)));
  const read = readSourceFile(bytes, name);
  if (!read.ok || read.kind !== 'workbook') throw new Error(`${name} is not read`);
  return readBook(read.workbook).project;
}

interface ExpectedRun {
  readonly fixtures: number;
  readonly supplyV: number;
  readonly line: string;
  readonly homeRunM: number;
  readonly drawnM: number;
  readonly leadInM: number;
  readonly perFixture?: readonly {
    readonly tag: string;
    readonly place: number;
    readonly spanM: number;
  }[];
}
interface Expected {
  readonly input: {
    readonly sheet: string;
    readonly headerRow: number;
    readonly rowsRead: number;
    readonly rowsSkipped: readonly { readonly row: number; readonly reason: string }[];
    readonly columns: Readonly<Record<string, string | null>>;
  };
  readonly runs: Readonly<Record<string, ExpectedRun>>;
}
const expected: Expected = JSON.parse(readFileSync(new URL('expected.json', folder), 'utf8'));
const project = projectOf('thistlemere-aqueduct.xlsx');

describe('the second job, xlsx', () => {
  it('finds sheet, header, columns, rows read and rows skipped', () => {
    const { source } = project;
    expect(source?.sheets[0]?.sheet).toBe(expected.input.sheet);
    expect(source?.sheets[0]?.headerRow).toBe(expected.input.headerRow);
    expect(source?.sheets[0]?.rowsRead).toBe(expected.input.rowsRead);
    expect(source?.sheets[0]?.rowsSkipped).toEqual(expected.input.rowsSkipped);
    expect(columnIds(project)).toEqual(expected.input.columns);
  });

  it.each(Object.entries(expected.runs))('run %s', (name, wanted) => {
    const run = project.runs.find((r) => r.name === name);
    const members = project.fixtures
      .filter((f) => f.run === name)
      .sort((a, b) => (a.place ?? 0) - (b.place ?? 0));
    expect(members).toHaveLength(wanted.fixtures);
    expect(run?.supplyV).toBe(wanted.supplyV);
    expect(run?.line ?? project.settings.defaultLine).toBe(wanted.line);
    expect(run?.homeRunM).toBe(wanted.homeRunM);
    expect(run?.leadInM).toBe(wanted.leadInM);
    const drawnM = members
      .slice(1)
      .reduce((sum, f) => sum + (f.spanM ?? Number.NaN), wanted.leadInM);
    expect(drawnM).toBeCloseTo(wanted.drawnM, 9);
    for (const [index, one] of (wanted.perFixture ?? []).entries()) {
      expect(members[index]).toMatchObject({ tag: one.tag, place: one.place });
      if (index > 0) expect(members[index]?.spanM).toBe(one.spanM);
    }
  });

  it('reads types, supplies, lines and project', () => {
    // TYPE_NUMBERS, SUPPLIES, LINE_NUMBERS and PROJECT of make.py
    const types = project.types.map((t) => [
      t.name, t.loadW, t.powerFactor, t.absoluteMinV, t.absoluteMaxV, t.unitLoad, t.leakageMa,
      Object.fromEntries(t.modes.map((m) => [m.name, m.footprint])),
    ]); // biome-ignore format: a table
    expect(types).toEqual([
      ['AS1', 62, 0.95, 90, 305, 1, 0.7, { '4ch': 4, '8ch': 8 }],
      ['PF2', 150, 0.96, 198, 305, 0.5, 0.7, { '5ch': 5, '10ch': 10 }],
      ['PR3', 9, 0.9, 90, 305, 1, 0.2, { '3ch': 3 }],
      ['TH4', 40, null, 198, 264, 0.25, 0.5, { '2ch': 2 }],
      ['TB5', 24, 0.92, 90, 305, 0.25, 0.4, { '4ch': 4 }],
      ['LG6', 85, 0.95, 170, 528, 0.125, 0.5, { '4ch': 4, '8ch': 8 }],
    ]);
    expect(project.supplies.map((s) => Object.values(s))).toEqual([
      ['DB-A', '400Y/230', 3, 400, 230],
      ['DB-T', '230 V single phase', 1, null, 230],
    ]);
    const lines = project.lines.map((l) => [
      l.name, l.resistanceOhmPerKm, l.reactanceOhmPerKm, l.ratingA, l.maxUpstreamBreakerA,
      l.lengthLimits, l.jumperLengthsM, l.leadInLengthsM, l.leadInCuttable, l.pieceChoice,
    ]); // biome-ignore format: a table
    const limit = (maxLengthM: number) => [{ supplyV: 230, maxLengthM }];
    expect(lines).toEqual([
      ['T25', 9.55, 0.1, 10, 20, limit(100), [1, 2.5, 5, 10], [3, 10, 20], true, 'fewest-joints'],
      ['T15', 15.9, 0.11, 6, 10, limit(60), [1, 3, 7, 10], [3, 10], true, 'least-excess'],
    ]);
    expect(project).toMatchObject({
      name: 'Thistlemere Aqueduct, stage 2',
      revision: 'B',
      settings: {
        profile: 'iec',
        supplyTolerancePct: 10,
        defaultLine: 'T25',
        homeRunConductor: '4 mm²',
        displayUnit: 'm',
      },
    });
    expect(project.assumptions).toEqual([]);
  });

  it('lists what was not plain, and nothing else of the schedule', () => {
    const readings = (project.source?.readings ?? []).filter((r) => r.cell.startsWith('Schedule!'));
    expect(readings.map((r) => [r.raw, r.value])).toEqual([
      ['7,5', 7.5],
      ['7,5 m', 7.5],
      ['17,5 m', 17.5],
      ['F-08', 'F-08'],
      ['4500 mm', 4.5],
      ['4,2', 4.2],
      ['4,2', 4.2],
    ]);
  });

  it('keeps what two rows say otherwise', () => {
    const differing = project.fixtures.filter((f) => f.differing !== null);
    expect(differing.map((f) => [f.tag, f.differing])).toEqual([
      ['P-17', { breakerA: 10 }],
      ['G-07', { supplyV: 400 }],
    ]);
  });

  it('keeps text that begins with = or +', () => {
    const walk = project.source?.columns.findIndex((c) => c.header === 'Site walk') ?? -1;
    const of = (tag: string) => project.fixtures.find((f) => f.tag === tag)?.origin?.cells[walk];
    expect([of('A-07'), of('A-10')]).toEqual(['= as stage 1', '+ spare bracket here']);
  });
});

describe('the second job, csv', () => {
  const csv = projectOf('thistlemere-aqueduct.csv');

  it('reads the same fixtures', () => {
    expect(csv.source?.sheets[0]?.rowsRead).toBe(68);
    expect(csv.source?.sheets[0]?.rowsSkipped).toEqual([]);
    const bare = (p: Project) => p.fixtures.map(({ id: _id, origin: _origin, ...rest }) => rest);
    expect(bare(csv)).toEqual(bare(project));
    expect(csv.runs).toEqual(project.runs);
    expect(csv.circuits).toEqual(project.circuits);
  });

  it('marks the decimal commas of its text cells', () => {
    expect(readingAt(csv, "'thistlemere-aqueduct'!Q3")?.value).toBe(7.5);
  });

  it('says the profile is a default', () => {
    expect(csv.assumptions).toContainEqual({
      what: 'Profile',
      value: 'north-america',
      unit: null,
      from: 'default',
    });
  });
});
