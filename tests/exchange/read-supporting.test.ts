/** Types, panels, lines and project beside the schedule. Resistances: 1 kft = 304.8 m exactly. Cases invented. */
import { describe, expect, it } from 'vitest';
import type { SourceSheet } from '../../src-shared/document/source-workbook.ts';
import { readLengthLimits, readLengths } from '../../src-shared/exchange/tables/length-words.ts';
import { readModes } from '../../src-shared/exchange/tables/mode-words.ts';
import { readWindow } from '../../src-shared/exchange/tables/window-words.ts';
import { METRES_PER_FOOT } from '../../src-shared/units/length.ts';
import {
  type CellInput,
  readBook,
  readingAt,
  readingsOf,
  sheetOf,
  workbookOf,
} from './build-workbook.ts';

const schedule = sheetOf([
  ['Tag', 'Type', 'Run', 'Place', 'Mode', 'Span ft', 'Line'],
  ['A', 'F3', 'R', 1, '5ch', 12, 'H12'],
]);
const named = (name: string, rows: readonly (readonly CellInput[])[]): SourceSheet =>
  sheetOf(rows, { name });
const withSheets = (...sheets: SourceSheet[]) => readBook(workbookOf(...sheets, schedule)).project;

describe('types', () => {
  const rows = [
    [
      'Type',
      'Description',
      'W max',
      'pf',
      'Printed window',
      'Absolute window',
      'Modes',
      'Unit load',
      'Leakage mA',
      'Max per 20 A',
      'Max per 16 A',
    ],
    ['F3', 'narrow', 87, 0.95, '100–277 V', '90–305', '5ch = 5, 9ch = 9', '1/2', 0.5, 40, 32],
  ];

  it.each(['Types', 'Legend', 'types ', 'Anything'])('are found on a sheet named %s', (name) => {
    expect(withSheets(named(name, rows)).types).toEqual([
      {
        name: 'F3',
        description: 'narrow',
        loadW: 87,
        powerFactor: 0.95,
        printedMinV: 100,
        printedMaxV: 277,
        absoluteMinV: 90,
        absoluteMaxV: 305,
        modes: [
          { name: '5ch', footprint: 5 },
          { name: '9ch', footprint: 9 },
        ],
        unitLoad: 0.5,
        leakageMa: 0.5,
        breakerMaxima: [
          { breakerA: 20, fixtures: 40 },
          { breakerA: 16, fixtures: 32 },
        ],
      },
    ]);
  });

  it('may have their window in two columns and a footprint in its own', () => {
    const project = withSheets(
      named('Legend', [
        ['Luminaire legend'],
        ['Code', 'Description', 'Watts', 'Min V', 'Max V', 'Mode', 'Channels'],
        ['F3', 'narrow', '87 W', 100, 277, 'basic', 5],
        ['F3', null, null, null, null, 'full', 9],
      ]),
    );
    expect(project.types[0]).toMatchObject({
      name: 'F3',
      loadW: 87,
      printedMinV: 100,
      printedMaxV: 277,
      modes: [
        { name: 'basic', footprint: 5 },
        { name: 'full', footprint: 9 },
      ],
    });
    expect(readingAt(project, 'Legend!A4')?.confidence).toBe('guess');
  });

  it('near to one named are never joined, but told', () => {
    const project = withSheets(named('Types', [rows[0] ?? [], ['F3A', 'wide', 90, 0.9]]));
    expect(project.types.map((t) => [t.name, t.loadW])).toEqual([
      ['F3A', 90],
      ['F3', null],
    ]);
    expect(readingAt(project, 'Schedule!B2')).toMatchObject({ value: 'F3', confidence: 'guess' });
    expect(readingAt(project, 'Schedule!B2')?.note).toContain('F3A is near');
  });

  it('without a legend are blank records, untold', () => {
    const project = readBook(workbookOf(schedule)).project;
    expect(project.types.map((t) => [t.name, t.loadW])).toEqual([['F3', null]]);
    expect(readingAt(project, 'Schedule!B2')).toBeUndefined();
  });

  it('give a mode its own spelling where only that can be meant', () => {
    const other = sheetOf([
      ['Tag', 'Type', 'Mode'],
      ['A', 'F3', 5],
      ['B', 'F3', '9-channel mode'],
      ['C', 'F3', '16ch'],
    ]);
    const { project } = readBook(workbookOf(named('Types', rows), other));
    expect(project.fixtures.map((f) => f.mode)).toEqual(['5ch', '9ch', '16ch']);
    expect(readingAt(project, 'Schedule!C2')?.confidence).toBe('likely');
    expect(readingAt(project, 'Schedule!C4')).toBeUndefined();
  });

  it('merged over the rows of their modes have them all, and the watts merged with them', () => {
    const legend = [
      ['Type', 'Watts', 'Mode', 'Channels'],
      ['F3', 20, '5ch', 5],
      [null, null, '9ch', 9],
    ];
    const merges = [0, 1].map((column) => ({
      firstRow: 2,
      lastRow: 3,
      firstColumn: column,
      lastColumn: column,
    }));
    const project = withSheets(sheetOf(legend, { name: 'Legend', merges }));
    expect(project.types).toMatchObject([
      { name: 'F3', loadW: 20, modes: [{ footprint: 5 }, { footprint: 9 }] },
    ]);
    // Nobody has written in the merged cell: an answer for it would be for a blank one.
    expect(readingAt(project, 'Legend!A3')?.raw).toBe('');
  });

  it('a row that names none is told', () => {
    const legend = [
      ['Type', 'Watts', 'pf'],
      ['F3', 20, 0.9],
      [null, 50, 0.9],
    ];
    const project = withSheets(named('Legend', legend));
    expect(project.types.map(({ loadW }) => loadW)).toEqual([20]);
    expect(readingAt(project, 'Legend!B3')?.confidence).toBe('guess');
  });

  it('struck through are left out, told', () => {
    const gone = ['F9', 'x', '5'].map((text) => ({ text, value: text, struck: true as const }));
    const project = withSheets(named('Types', [...rows, gone]));
    expect(project.types.map((t) => t.name)).toEqual(['F3']);
    expect(readingAt(project, 'Types!A3')?.note).toContain('struck');
  });
});

describe('words of a legend', () => {
  it.each([
    [
      '5ch = 5, 9ch = 9',
      [
        ['5ch', 5],
        ['9ch', 9],
      ],
    ],
    ['4ch', [['4ch', 4]]],
    [
      '4ch; 8ch',
      [
        ['4ch', 4],
        ['8ch', 8],
      ],
    ],
    [
      '5ch/9ch',
      [
        ['5ch', 5],
        ['9ch', 9],
      ],
    ],
    [
      'Basic (6), Full: 12',
      [
        ['Basic', 6],
        ['Full', 12],
      ],
    ],
    ['9', [['9ch', 9]]],
    ['RGBW 4ch', [['RGBW 4ch', 4]]],
    ['"a, b = c" = 3', [['a, b = c', 3]]],
  ] as const)('modes %s', (text, modes) => {
    const read = readModes(text);
    expect(read.refusal).toBeNull();
    expect(read.value.map((m) => [m.name, m.footprint])).toEqual(modes);
  });

  it.each(['many', '0ch', '600 ch', 'x ='])('modes %s are refused', (text) => {
    expect(readModes(text).refusal).not.toBeNull();
  });

  it.each([
    ['100–277 V', 100, 277],
    ['90-305VAC 50/60Hz', 90, 305],
    ['120/277 V', 120, 277],
    ['347 to 480', 347, 480],
    ['from 100 V', 100, null],
    ['up to 277 V', null, 277],
    ['230 V', 230, 230],
    ['120–277 V as issued', 120, 277],
  ] as const)('window %s', (text, minV, maxV) => {
    expect(readWindow(text)).toMatchObject({ value: { minV, maxV }, refusal: null });
  });

  it.each(['UNV', '305–90', 'see sheet'])('window %s is refused', (text) => {
    expect(readWindow(text).refusal).not.toBeNull();
  });

  it.each([
    ['2 ft, 8 ft, 15 ft', [0.6096, 2.4384, 4.572]],
    ['2, 8, 15 ft', [0.6096, 2.4384, 4.572]],
    ['2,8,15 ft', [0.6096, 2.4384, 4.572]],
    ['1 m; 2,5 m; 5 m', [1, 2.5, 5]],
    ['2,5 m', [2.5]],
    ['1 m, 2.5 m and 5 m', [1, 2.5, 5]],
  ] as const)('lengths %s', (text, lengths) => {
    expect(readLengths(text, null)).toMatchObject({ value: lengths, refusal: null });
  });

  it.each(['as needed', '2, 8', '0 ft', '-2 m'])('lengths %s are refused', (text) => {
    expect(readLengths(text, null).refusal).not.toBeNull();
  });

  it('a lone comma is a decimal mark, told: it may be a list', () => {
    expect(readLengths('2,8 ft', null)).toMatchObject({ value: [2.8 * METRES_PER_FOOT] });
    expect(readLengths('2,8 ft', null).note).toContain('one length');
    expect(readLengths('2, 8 ft', null).note).toBeUndefined();
    expect(readLengths('8 ft', null).note).toBeUndefined();
  });

  it('limits by supply, any supply, or both', () => {
    expect(readLengthLimits('208 V: 220 ft; 347 V: 380 ft', null).value).toEqual({
      limits: [
        { supplyV: 208, maxLengthM: 67.056 },
        { supplyV: 347, maxLengthM: 115.824 },
      ],
      maxLengthM: null,
    });
    expect(readLengthLimits('350 ft', null).value).toEqual({ limits: [], maxLengthM: 106.68 });
    expect(readLengthLimits('230 V: 60 m; any: 50 m', null).value.maxLengthM).toBe(50);
    expect(readLengthLimits('short', null).refusal).not.toBeNull();
  });
});

describe('supplies', () => {
  it('are read by name and by headers', () => {
    const rows = [
      ['Panel', 'System', 'Phases', 'Volts L-L', 'Volts L-N'],
      ['LP-R', '208Y/120', 3, 208, 120],
      ['LP-1', '120 V', '1φ', null, '120 V'],
    ];
    for (const name of ['Supplies', 'Power']) {
      expect(withSheets(named(name, rows)).supplies.map((s) => Object.values(s))).toEqual([
        ['LP-R', '208Y/120', 3, 208, 120],
        ['LP-1', '120 V', 1, null, 120],
      ]);
    }
  });

  it('take both voltages from the system where no column has them, told', () => {
    const project = withSheets(
      named('Panels', [
        ['Panel', 'System', 'Phases'],
        ['LP-R', '208Y/120', 3],
      ]),
    );
    expect(project.supplies[0]).toMatchObject({ lineToLineV: 208, lineToNeutralV: 120 });
    expect(readingAt(project, 'Panels!B2')?.confidence).toBe('likely');
  });
});

describe('lines', () => {
  const header = [
    'Line',
    'Conductor',
    'Resistance ohm/kft hot',
    'Reactance ohm/kft',
    'Rating A',
    'Upstream breaker max A',
    'Max length (by supply)',
    'Jumpers',
    'Lead-ins',
    'Lead-in cut at box',
    'Pieces',
    'Listed for power and data',
  ];
  const row = [
    'H12',
    '12 AWG copper',
    1.98,
    null,
    10,
    20,
    '208 V: 220 ft; 347 V: 380 ft',
    '2, 8, 15, 30 ft',
    '8, 30, 60 ft',
    'no',
    'fewest joints',
    'yes',
  ];

  it('are read in SI units', () => {
    const project = withSheets(named('Lines', [header, row]));
    expect(project.lines).toMatchObject([
      {
        name: 'H12',
        conductor: '12 AWG',
        reactanceOhmPerKm: null,
        ratingA: 10,
        maxUpstreamBreakerA: 20,
        leadInCuttable: false,
        pieceChoice: 'fewest-joints',
        listedPowerAndData: true,
        conductorsPerFixture: 8,
        conductorsPerHeadBox: 6,
      },
    ]);
    expect(project.lines[0]?.resistanceOhmPerKm).toBe(1.98 / METRES_PER_FOOT);
    expect(project.lines[0]?.jumperLengthsM).toEqual([0.6096, 2.4384, 4.572, 9.144]);
  });

  it('the only one is that of the project, listed', () => {
    const project = withSheets(named('Lines', [header, row]));
    expect(project.settings.defaultLine).toBe('H12');
    expect(project.assumptions.map((a) => a.what)).toContain('Line of runs that name none');
  });

  it('of two none is, unless the project names it', () => {
    const two = named('Lines', [header, row, ['X', '2.5 mm²']]);
    expect(withSheets(two).settings.defaultLine).toBeNull();
    const project = withSheets(two, named('Project', [['Line', 'X']]));
    expect(project.settings.defaultLine).toBe('X');
    expect(project.assumptions.map((a) => a.what)).not.toContain('Line of runs that name none');
  });

  it('named in the schedule alone are blank records', () => {
    const project = readBook(workbookOf(schedule)).project;
    expect(project.lines.map((l) => [l.name, l.conductor])).toEqual([['H12', null]]);
    expect(project.settings.defaultLine).toBeNull();
  });
});

describe('sheets of results that the export makes', () => {
  it('are not read, circuits included', () => {
    const circuits = named('Circuits', [
      ['Panel', 'Circuit', 'Breaker (A)', 'Phases'],
      ['LP-9', '1', 20, 3],
    ]);
    const project = readBook(workbookOf(schedule, circuits)).project;
    expect(project.supplies.map((s) => s.name)).not.toContain('LP-9');
    expect(project.source?.readings).toEqual([]);
  });
});

describe('the project sheet', () => {
  it('tells of every key it does not know, and of one that stands twice', () => {
    const project = readBook(
      workbookOf(
        schedule,
        named('Project', [
          ['Setting', 'Value'],
          ['Project', 'Roundhouse'],
          ['Issued', 'for review'],
          ['A line of text'],
          ['Project', 'Other'],
        ]),
      ),
    ).project;
    expect(project.name).toBe('Roundhouse');
    expect(project.source?.readings).toMatchObject([
      { cell: 'Project!B3', raw: 'for review', value: null, confidence: 'guess' },
      { cell: 'Project!B5', raw: 'Other', value: null, confidence: 'guess' },
    ]);
  });

  it('sets name, revision and settings; its profile wins', () => {
    const project = readBook(
      workbookOf(
        schedule,
        named('Project', [
          ['Project', 'Roundhouse'],
          ['Revision', 'C'],
          ['Profile', 'IEC'],
          ['Supply tolerance', '±5 %'],
          ['Branch drop limit', 3],
          ['Branch drop binding', 'yes'],
          ['Continuous factor', '80 %'],
          ['Home run conductor', '12 AWG'],
          ['Display unit', 'm'],
        ]),
      ),
      { profile: 'north-america' },
    ).project;
    expect(project).toMatchObject({
      name: 'Roundhouse',
      revision: 'C',
      settings: {
        profile: 'iec',
        supplyTolerancePct: 5,
        branchDropPct: 3,
        branchDropBinding: true,
        continuousFactor: 0.8,
        homeRunConductor: '12 AWG',
        displayUnit: 'm',
      },
    });
    expect(project.assumptions.map((a) => a.what)).not.toContain('Profile');
    expect(readingsOf(project)).toEqual([]);
  });

  it('with words that fit nothing leaves blanks, told', () => {
    const project = withSheets(
      named('Project', [
        ['Profile', 'mars'],
        ['Supply tolerance', 'some'],
        ['Branch drop binding', 'perhaps'],
      ]),
    );
    expect(project.settings).toMatchObject({
      profile: 'north-america',
      supplyTolerancePct: null,
      branchDropBinding: null,
    });
    expect(readingsOf(project).filter((r) => r.confidence === 'refused')).toHaveLength(3);
  });

  it('missing: the option’s profile holds and is listed', () => {
    const { project } = readBook(workbookOf(schedule), { profile: 'iec' });
    expect(project.settings.profile).toBe('iec');
    expect(project.assumptions).toContainEqual({
      what: 'Profile',
      value: 'iec',
      unit: null,
      from: 'option',
    });
  });
});

describe('a sheet named like one of ours without its headers', () => {
  it('is told', () => {
    const project = withSheets(named('Lines', [['to be issued by others']]));
    expect(readingAt(project, 'Lines!A1')?.confidence).toBe('refused');
  });
});
