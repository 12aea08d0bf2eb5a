/**
 * The demo job (tests/files/demo/rows.csv, invented) as a document, built here by hand so that the
 * tables can be tested without the import.
 */
import { readFileSync } from 'node:fs';
import { parse } from 'csv-parse/sync';
import {
  blankCircuit,
  blankFixture,
  blankLine,
  blankProject,
  blankRun,
  blankSupply,
  blankType,
} from '../../src-shared/document/blank.ts';
import type {
  Circuit,
  FixtureType,
  Project,
  Run,
  SourceColumn,
} from '../../src-shared/document/project.ts';
import { metresFromFeet } from '../../src-shared/units/length.ts';
import { singleSource } from '../exchange/single-source.ts';

const columnIds: Readonly<Record<string, readonly [id: string | null, unit: string | null]>> = {
  Tag: ['tag', null],
  Type: ['type', null],
  Area: ['area', null],
  Run: ['run', null],
  Place: ['place', null],
  'Fed from': ['fedFrom', null],
  Panel: ['panel', null],
  Circuit: ['circuit', null],
  'Supply V': ['supply', 'V'],
  'Span ft': ['span', 'ft'],
  'Lead-in ft': ['leadIn', 'ft'],
  'Home run ft': ['homeRun', 'ft'],
  Universe: ['universe', null],
  Start: ['address', null],
  Mode: ['mode', null],
  'Share set': ['shareSet', null],
  Remarks: ['remarks', null],
  Location: ['location', null],
  Reach: ['reach', null],
  'Breaker A': ['breaker', 'A'],
  Protection: ['protection', null],
};
const numeric = new Set([
  'Place',
  'Supply V',
  'Span ft',
  'Lead-in ft',
  'Home run ft',
  'Universe',
  'Start',
  'Breaker A',
]);

function type(
  name: string,
  numbers: readonly [watts: number, pf: number, minV: number, maxV: number, ul: number, mA: number],
  modes: readonly (readonly [string, number])[],
): FixtureType {
  const [loadW, powerFactor, absoluteMinV, absoluteMaxV, unitLoad, leakageMa] = numbers;
  return {
    ...blankType(name),
    loadW,
    powerFactor,
    absoluteMinV,
    absoluteMaxV,
    unitLoad,
    leakageMa,
    modes: modes.map(([mode, footprint]) => ({ name: mode, footprint })),
  };
}

const fiveNine = [
  ['5ch', 5],
  ['9ch', 9],
] as const;
const four = [['4ch', 4]] as const;
const feet = (...lengths: number[]) => lengths.map(metresFromFeet);

// The file has line feeds alone behind its header and returns before them elsewhere.
const text = (cell: string | undefined): string | null => cell?.trim() || null;
const number = (cell: string | undefined): number | null =>
  cell === undefined || cell === '' ? null : Number(cell);
const length = (cell: string | undefined): number | null =>
  cell === undefined || cell === '' ? null : metresFromFeet(Number(cell));

/** Header of the demo schedule stands in row 5 of its sheet. */
export const demoHeaderRow = 5;

export function demoJob(): Project {
  const file = new URL('../files/demo/rows.csv', import.meta.url);
  const [headers = [], ...body] = parse(readFileSync(file, 'utf8')) as string[][];
  const rows = body.map((cells) => Object.fromEntries(headers.map((h, i) => [h, cells[i] ?? ''])));
  const circuits = new Map<string, Circuit>();
  const runs = new Map<string, Run>();
  for (const row of rows) {
    const id = `${row.Panel} ${row.Circuit}`;
    if (!circuits.has(id)) {
      circuits.set(id, {
        ...blankCircuit(id),
        panel: text(row.Panel),
        name: text(row.Circuit),
        breakerA: number(row['Breaker A']),
        protection: text(row.Protection),
      });
    }
    const name = row.Run ?? '';
    if (!runs.has(name)) {
      runs.set(name, {
        ...blankRun(name, id),
        supplyV: number(row['Supply V']),
        homeRunM: length(row['Home run ft']),
        leadInM: length(row['Lead-in ft']),
      });
    }
  }
  const columns: SourceColumn[] = headers.map((header, column) => {
    const [columnId, unit] = columnIds[header] ?? [null, null];
    return { column, header, columnId, unit };
  });
  const blank = blankProject('Foxglove Roundhouse Museum');
  return {
    ...blank,
    revision: 'B',
    settings: {
      ...blank.settings,
      branchDropBinding: true,
      defaultLine: 'H12',
      homeRunConductor: '12 AWG',
    },
    types: [
      type('RB1', [87, 0.95, 90, 305, 1, 0.5], fiveNine),
      type('RC2', [70, 0.92, 312, 528, 0.5, 0.6], fiveNine),
      type('RT3', [280, 0.95, 108, 305, 1, 0.7], four),
      type('RP4', [32, 0.93, 90, 305, 0.25, 0.45], four),
    ],
    lines: [
      {
        ...blankLine('H12'),
        conductor: '12 AWG',
        resistanceOhmPerKm: 1.98 / 0.3048,
        reactanceOhmPerKm: 0,
        ratingA: 10,
        maxUpstreamBreakerA: 20,
        lengthLimits: [
          { supplyV: 208, maxLengthM: metresFromFeet(220) },
          { supplyV: 347, maxLengthM: metresFromFeet(380) },
        ],
        jumperLengthsM: feet(2, 8, 15, 30),
        leadInLengthsM: feet(8, 30, 60),
        listedPowerAndData: true,
      },
    ],
    supplies: [
      { ...blankSupply('LP-R'), phases: 3, lineToLineV: 208, lineToNeutralV: 120 },
      { ...blankSupply('LP-S'), phases: 3, lineToLineV: 600, lineToNeutralV: 347 },
    ],
    circuits: [...circuits.values()],
    runs: [...runs.values()],
    fixtures: rows.map((row, i) => ({
      ...blankFixture(`f${i + 1}`),
      tag: text(row.Tag),
      type: text(row.Type),
      area: text(row.Area),
      run: text(row.Run),
      place: number(row.Place),
      fedFrom: text(row['Fed from']),
      spanM: length(row['Span ft']),
      universe: number(row.Universe),
      address: number(row.Start),
      mode: text(row.Mode),
      shareSet: text(row['Share set']),
      remarks: text(row.Remarks),
      location: text(row.Location),
      reach: text(row.Reach),
      origin: {
        file: 0,
        sheet: 'Schedule',
        row: demoHeaderRow + 1 + i,
        cells: headers.map((h) => (numeric.has(h) ? number(row[h]) : text(row[h]))),
      },
    })),
    source: singleSource({
      fileName: 'foxglove.xlsx',
      sheet: 'Schedule',
      headerRow: demoHeaderRow,
      columns,
      rowsRead: rows.length,
      rowsSkipped: [],
      readings: [],
    }),
  };
}
