/** Import of our own supporting sheets gives equal records, to the last bit: random projects, kept seed. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { blankLine, blankProject, blankType } from '../../src-shared/document/blank.ts';
import type { FixtureType, Line, Project, Supply } from '../../src-shared/document/project.ts';
import { projectSheets } from '../../src-shared/exchange/project-sheets.ts';
import { metresFromFeet } from '../../src-shared/units/length.ts';
import { readBook, readingsOf, sheetOf, workbookOf } from './build-workbook.ts';

const seed = 20310304;

const word = fc
  .stringMatching(/^[A-Za-z][A-Za-z0-9 ,;:="'()/+.-]{0,14}[A-Za-z0-9]$/)
  .filter((w) => !/\s{2}/u.test(w) && !/^n\.?b|^note/iu.test(w));
const maybe = <T>(arbitrary: fc.Arbitrary<T>) => fc.option(arbitrary, { nil: null });
const positive = fc.double({ min: 1e-6, max: 1e6, noNaN: true, noDefaultInfinity: true });
const volts = fc.oneof(
  fc.integer({ min: 1, max: 1000 }),
  fc.double({ min: 1, max: 1000, noNaN: true }),
);
const feet = fc.integer({ min: 1, max: 4000 }).map((tenths) => metresFromFeet(tenths / 10));
const lengthM = fc.oneof(positive, feet);
const windowOf = fc
  .tuple(maybe(volts), maybe(volts))
  .map(([a, b]) => (a !== null && b !== null && a > b ? [b, a] : [a, b]));

const typeOf: fc.Arbitrary<FixtureType> = fc
  .record({
    name: word,
    description: maybe(word),
    loadW: maybe(positive),
    powerFactor: maybe(fc.double({ min: 0.01, max: 1, noNaN: true })),
    printed: windowOf,
    absolute: windowOf,
    modes: fc.uniqueArray(fc.record({ name: word, footprint: fc.integer({ min: 1, max: 512 }) }), {
      selector: (mode) => mode.name,
      maxLength: 4,
    }),
    unitLoad: maybe(fc.constantFrom(1, 0.5, 0.25, 0.125, 1 / 3)),
    leakageMa: maybe(positive),
    maxima: fc.uniqueArray(fc.constantFrom(6, 10, 16, 20, 12.5), { maxLength: 3 }),
  })
  .map(({ printed, absolute, maxima, ...rest }) => ({
    ...blankType(rest.name),
    ...rest,
    printedMinV: printed[0] ?? null,
    printedMaxV: printed[1] ?? null,
    absoluteMinV: absolute[0] ?? null,
    absoluteMaxV: absolute[1] ?? null,
    breakerMaxima: maxima
      .sort((a, b) => a - b)
      .map((breakerA) => ({ breakerA, fixtures: Math.round(breakerA * 2) })),
  }));

const lineOf: fc.Arbitrary<Line> = fc.record({
  name: word,
  conductor: maybe(fc.constantFrom('12 AWG', '2.5 mm²', '1/0 AWG')),
  resistanceOhmPerKm: maybe(positive),
  reactanceOhmPerKm: maybe(positive),
  ratingA: maybe(positive),
  maxUpstreamBreakerA: maybe(positive),
  lengthLimits: fc.uniqueArray(fc.record({ supplyV: volts, maxLengthM: lengthM }), {
    selector: (limit) => limit.supplyV,
    maxLength: 3,
  }),
  maxLengthM: maybe(lengthM),
  jumperLengthsM: fc.array(lengthM, { maxLength: 5 }),
  leadInLengthsM: fc.array(lengthM, { maxLength: 3 }),
  leadInCuttable: fc.boolean(),
  pieceChoice: fc.constantFrom('fewest-joints' as const, 'least-excess' as const),
  conductorsPerFixture: fc.integer({ min: 0, max: 20 }),
  conductorsPerHeadBox: fc.integer({ min: 0, max: 20 }),
  listedPowerAndData: maybe(fc.boolean()),
});

const supplyOf: fc.Arbitrary<Supply> = fc.record({
  name: word,
  system: maybe(word),
  phases: fc.constantFrom(1 as const, 3 as const, null),
  lineToLineV: maybe(volts),
  lineToNeutralV: maybe(volts),
});

const unique = <T extends { readonly name: string }>(arbitrary: fc.Arbitrary<T>) =>
  fc.uniqueArray(arbitrary, { selector: (record) => record.name.toLowerCase(), maxLength: 4 });

const projectOf: fc.Arbitrary<Project> = fc
  .record({
    name: word,
    revision: maybe(word),
    types: unique(typeOf),
    lines: unique(lineOf),
    supplies: unique(supplyOf),
    settings: fc.record({
      profile: fc.constantFrom('north-america' as const, 'iec' as const),
      supplyTolerancePct: maybe(positive),
      branchDropPct: maybe(positive),
      branchDropBinding: maybe(fc.boolean()),
      continuousFactor: maybe(fc.double({ min: 0.1, max: 1, noNaN: true })),
      homeRunConductor: maybe(fc.constantFrom('12 AWG', '4 mm²')),
      exactOhmPerKm: maybe(positive),
      exactReactanceOhmPerKm: maybe(positive),
      displayUnit: fc.constantFrom('ft' as const, 'm' as const),
    }),
    named: fc.boolean(),
  })
  .map(({ settings, named, ...rest }) => ({
    ...blankProject(rest.name),
    ...rest,
    settings: { ...settings, defaultLine: named ? (rest.lines[0]?.name ?? null) : null },
  }));

const schedule = sheetOf([
  ['Tag', 'Run', 'Place'],
  ['A', 'R', 1],
]);

function readBack(project: Project): Project {
  const sheets = projectSheets(project).map(({ name, rows }) => sheetOf(rows, { name }));
  return readBook(workbookOf(schedule, ...sheets)).project;
}

describe('supporting sheets written and read', () => {
  it('give equal types, supplies, lines and settings, without a reading', () => {
    fc.assert(
      fc.property(projectOf, (project) => {
        const back = readBack(project);
        expect(back.types).toEqual(project.types);
        expect(back.supplies).toEqual(project.supplies);
        expect(back.lines).toEqual(project.lines);
        expect(back.settings).toEqual(project.settings);
        expect([back.name, back.revision]).toEqual([project.name, project.revision]);
        expect(readingsOf(back).filter((r) => r.confidence === 'refused')).toEqual([]);
      }),
      { seed, numRuns: 400 },
    );
  });

  it('of the smallest project are four sheets with their headers', () => {
    const sheets = projectSheets(blankProject('x'));
    expect(sheets.map((s) => s.name)).toEqual(['Types', 'Supplies', 'Lines', 'Project']);
    expect(readBack(blankProject('x')).settings).toEqual(blankProject('x').settings);
  });

  it('write feet for a project in feet and metres for one in metres', () => {
    const line = { ...blankLine('H'), jumperLengthsM: [metresFromFeet(2), metresFromFeet(12.5)] };
    const cells = (displayUnit: 'ft' | 'm') => {
      const project = { ...blankProject('x'), lines: [line] };
      const sheets = projectSheets({ ...project, settings: { ...project.settings, displayUnit } });
      return sheets.find((s) => s.name === 'Lines')?.rows[1]?.[7];
    };
    expect(cells('ft')).toBe('2 ft; 12.5 ft');
    expect(cells('m')).toBe('0.6096 m; 3.81 m');
  });

  it('of one line without default stay without', () => {
    const project = { ...blankProject('x'), lines: [blankLine('H')] };
    expect(readBack(project).settings.defaultLine).toBeNull();
  });
});
