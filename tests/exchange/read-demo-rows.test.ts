/**
 * The rows of the demo job. Expected: the job's own description (90 fixtures on six runs, home runs
 * and drawn lengths in feet), written without the program.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readSourceFile } from '../../src-main/workbook/read-file.ts';
import { feetFromMetres, metresFromFeet } from '../../src-shared/units/length.ts';
import { readBook } from './build-workbook.ts';

const bytes = new Uint8Array(readFileSync(new URL('../files/demo-rows.csv', import.meta.url)));
const read = readSourceFile(bytes, 'demo-rows.csv');
if (!read.ok || read.kind !== 'workbook') throw new Error('the csv is not read');
const { project } = readBook(read.workbook);

/** Run: fixtures, home run ft, drawn ft, type, supply V. */
const runs: Readonly<Record<string, readonly [number, number, number, string, number]>> = {
  A1: [18, 120, 216, 'RB1', 208],
  A2: [9, 60, 108, 'RB1', 208],
  A3: [9, 95, 108, 'RB1', 208],
  B1: [24, 140, 352, 'RC2', 347],
  C1: [12, 160, 170, 'RT3', 347],
  D1: [18, 90, 149, 'RP4', 208],
};

describe('the demo rows', () => {
  it('reads 90 rows and skips none', () => {
    expect(project.fixtures).toHaveLength(90);
    expect(project.source?.sheets[0]?.rowsRead).toBe(90);
    expect(project.source?.sheets[0]?.rowsSkipped).toEqual([]);
    expect(project.source?.sheets[0]?.headerRow).toBe(1);
  });

  it('reads every column and needs no reading', () => {
    expect(project.source?.columns.map((c) => [c.header, c.columnId, c.unit])).toEqual([
      ['Tag', 'tag', null],
      ['Type', 'type', null],
      ['Area', 'area', null],
      ['Run', 'run', null],
      ['Place', 'place', null],
      ['Fed from', 'fedFrom', null],
      ['Panel', 'panel', null],
      ['Circuit', 'circuit', null],
      ['Supply V', 'supply', 'V'],
      ['Span ft', 'span', 'ft'],
      ['Lead-in ft', 'leadIn', 'ft'],
      ['Home run ft', 'homeRun', 'ft'],
      ['Universe', 'universe', null],
      ['Start', 'address', null],
      ['Mode', 'mode', null],
      ['Share set', 'shareSet', null],
      ['Remarks', 'remarks', null],
      ['Location', 'location', null],
      ['Reach', 'reach', null],
      ['Breaker A', 'breaker', 'A'],
      ['Protection', 'protection', null],
    ]);
    expect(project.source?.readings).toEqual([]);
  });

  it.each(Object.entries(runs))(
    'run %s has its fixtures, home run and drawn length',
    (name, row) => {
      const [count, homeRunFt, drawnFt, type, supplyV] = row;
      const run = project.runs.find((r) => r.name === name);
      const members = project.fixtures.filter((f) => f.run === name);
      expect(members.map((f) => f.place)).toEqual(Array.from({ length: count }, (_, i) => i + 1));
      expect(new Set(members.map((f) => f.type))).toEqual(new Set([type]));
      expect(run?.supplyV).toBe(supplyV);
      expect(run?.homeRunM).toBe(metresFromFeet(homeRunFt));
      const spansM = members.slice(1).map((f) => f.spanM ?? Number.NaN);
      const drawnM = (run?.leadInM ?? Number.NaN) + spansM.reduce((sum, m) => sum + m, 0);
      expect(feetFromMetres(drawnM)).toBeCloseTo(drawnFt, 9);
    },
  );

  it('puts A1, A2 and A3 on one circuit of panel LP-R', () => {
    const ids = ['A1', 'A2', 'A3'].map((n) => project.runs.find((r) => r.name === n)?.circuitId);
    expect(new Set(ids).size).toBe(1);
    expect(project.circuits.find((c) => c.id === ids[0])).toMatchObject({
      panel: 'LP-R',
      name: '1,3',
      breakerA: 20,
    });
  });

  it('keeps the planted mistakes as they stand', () => {
    const at = (tag: string) => project.fixtures.find((f) => f.tag === tag);
    expect([at('B-11')?.universe, at('B-12')?.universe]).toEqual([3, 3]);
    expect(at('D-10')?.fedFrom).toBe('D-05');
    expect(at('B-19')?.mode).toBe('9ch');
    expect(project.fixtures.every((f) => f.differing === null)).toBe(true);
    expect(project.settings.displayUnit).toBe('ft');
  });
});
