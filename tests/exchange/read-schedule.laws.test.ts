/** What holds for any sheet at all: random sheets, kept seeds. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { originsOf } from '../../src-shared/document/import-answers.ts';
import type { SourceWorkbook } from '../../src-shared/document/source-workbook.ts';
import { type ReadOptions, readSchedule } from '../../src-shared/exchange/read-schedule.ts';
import { reviseProject } from '../../src-shared/exchange/revise/revise-project.ts';
import { checkReferences } from '../../src-shared/format/check-references.ts';
import { projectSchema } from '../../src-shared/format/project-schema.ts';
import { answersFor, type CellInput, sheetOf, workbookOf } from './build-workbook.ts';

const seed = 20310306;

const headers = [
  'Tag', 'Type', 'Run', 'Place', 'Fed from', 'Span ft', 'Span', 'Span (m)', 'Lead-in', 'Home run ft', 'Load W',
  'Load', 'VA', 'pf', 'Supply V', 'Panel', 'Circuit', 'Breaker', 'Protection', 'Line', 'Wire', 'Universe', 'Start',
  'Ch', 'DMX', 'Mode', 'Qty', 'Remarks', 'Locks', 'Runledger id', 'Findings', 'Electrical', 'ft', '__proto__', 'constructor', '',
]; // biome-ignore format: a list
const words = [
  'A-01', 'A-01–A-12', 'F3', '"', 'ditto', 'do.', '-', 'n/a', 'TBC', 'EQ', '12\'-6"', '12 ft', '3,81 m', '3810', '7,5', '87W',
  '0.42A', '100 VA', '208/1', '208Y/120', 'UNV', '2/101', '2.1', '2.10', '613', '5ch', '1/2', '14', '0', '-3', 'Subtotal',
  'Total:', 'Note: x', 'R1', 'r1', '1,3', 'LP-3/14,16', '12 AWG', '2.5 mm²', 'H12', '__proto__', 'constructor', '\u00A0',
  '=1+1', 'x'.repeat(300), '٣', '9'.repeat(30), '1e400', 'universe', 'place;span',
]; // biome-ignore format: a list

const cell: fc.Arbitrary<CellInput> = fc.oneof(
  { weight: 6, arbitrary: fc.constantFrom(...words) },
  { weight: 2, arbitrary: fc.constant(null) },
  { weight: 3, arbitrary: fc.integer({ min: -5, max: 700 }) },
  { weight: 1, arbitrary: fc.double({ noNaN: true, noDefaultInfinity: true }) },
  { weight: 1, arbitrary: fc.string({ maxLength: 12 }) },
  { weight: 1, arbitrary: fc.boolean() },
  {
    weight: 1,
    arbitrary: fc.constantFrom<CellInput>(
      { text: '1-Mar', value: '2031-03-01', kind: 'date' },
      { text: '#REF!', value: '#REF!', kind: 'error' },
      { text: '', value: null, formula: 'SUM(A1:A2)' },
      { text: 'A-09', value: 'A-09', struck: true },
      { text: 'F3', value: 'F3', note: 'now 9ch' },
      { text: '12.5 m', value: 12.5, kind: 'number' },
    ),
  },
);
const area = fc
  .record({ firstRow: fc.nat(12), rows: fc.nat(5), firstColumn: fc.nat(8), columns: fc.nat(4) })
  .map(({ firstRow, rows, firstColumn, columns }) => ({
    firstRow: firstRow + 1,
    lastRow: firstRow + 1 + rows,
    firstColumn,
    lastColumn: firstColumn + columns,
  }));

const headerRow = fc
  .uniqueArray(fc.constantFrom(...headers.slice(1)), { minLength: 1, maxLength: 10 })
  .map((list) => ['Tag', ...list]);

const schedule = fc
  .record({
    name: fc.constantFrom('Schedule', 'Rev C', 'Types', 'Lines', 'Project', "O'Hara", '__proto__'),
    title: fc.array(fc.array(cell, { maxLength: 3 }), { maxLength: 3 }),
    header: fc.oneof(headerRow, fc.array(cell, { maxLength: 8 })),
    body: fc.array(fc.array(cell, { maxLength: 11 }), { maxLength: 14 }),
    merges: fc.array(area, { maxLength: 3 }),
    hiddenRows: fc.array(fc.integer({ min: 1, max: 18 }), { maxLength: 2 }),
    hidden: fc.boolean(),
  })
  .map(({ title, header, body, ...input }) => sheetOf([...title, header, ...body], input));

const book: fc.Arbitrary<SourceWorkbook> = fc
  .uniqueArray(schedule, { selector: (sheet) => sheet.name, minLength: 1, maxLength: 3 })
  .map((sheets) => workbookOf(...sheets));

const options: fc.Arbitrary<ReadOptions> = fc.oneof(
  { weight: 4, arbitrary: fc.constant({}) },
  { weight: 2, arbitrary: fc.constantFrom<ReadOptions>({ hidden: 'read' }, { profile: 'iec' }) },
  { weight: 1, arbitrary: fc.record({ headerRow: fc.integer({ min: -1, max: 20 }) }) },
  {
    weight: 1,
    arbitrary: fc.constantFrom<ReadOptions>(
      { sheet: 'rev c' },
      { sheet: 'Nowhere' },
      { map: new Map([['Span', 'span']]) },
      { map: new Map([['Type', '']]) },
      { map: new Map([['Run', 'nonsense']]) },
      { answers: answersFor(['Schedule!B3', 'T1', '12 ft']) },
      { answers: answersFor(['Schedule!A4', 'A-01', null]) },
    ),
  },
);

describe('any workbook', () => {
  it('is read or refused, never thrown at; the project is whole', () => {
    let read = 0;
    fc.assert(
      fc.property(book, options, (workbook, asked) => {
        const result = readSchedule(workbook, asked);
        if (!result.ok) {
          expect(['bad-option', 'no-schedule']).toContain(result.refusal.code);
          expect(result.refusal.what).not.toBe('');
          return;
        }
        read += 1;
        const { project } = result;
        // Numbers are finite and kinds are right; keys stand once and references lead somewhere.
        expect(projectSchema.safeParse(project).success).toBe(true);
        expect(checkReferences(project)).toBeNull();
        expect(project.fixtures.length).toBeGreaterThan(0);
      }),
      { seed, numRuns: 1200 },
    );
    expect(read).toBeGreaterThan(200);
  });

  it('has each filled row below its header read or skipped, once', () => {
    fc.assert(
      fc.property(book, options, (workbook, asked) => {
        const result = readSchedule(workbook, asked);
        if (!result.ok) return;
        const { source, fixtures } = result.project;
        for (const { sheet: name, headerRow, rowsRead, rowsSkipped } of source?.sheets ?? []) {
          const sheet = workbook.sheets.find((s) => s.name === name);
          const below = (sheet?.rows ?? []).filter((r) => r.number > headerRow);
          const skipped = rowsSkipped.map((r) => r.row);
          const origins = fixtures.flatMap(({ origin }) => (origin?.sheet === name ? origin : []));
          const read = [...new Set(origins.map(({ row }) => row))];
          expect(read).toHaveLength(rowsRead);
          expect([...read, ...skipped].sort((a, b) => a - b)).toEqual(below.map((r) => r.number));
        }
      }),
      { seed: seed + 1, numRuns: 1200 },
    );
  });

  it('merged with another is whole: every fixture has its rows, every row its fixture', () => {
    fc.assert(
      fc.property(book, book, (first, other) => {
        const second = { ...other, fileName: 'other.xlsx' };
        const result = readSchedule([first, second], {});
        if (!result.ok) return;
        const { project } = result;
        expect(projectSchema.safeParse(project).success).toBe(true);
        expect(checkReferences(project)).toBeNull();
        for (const { file, sheet, rowsRead } of project.source?.sheets ?? []) {
          const rows = project.fixtures
            .flatMap(originsOf)
            .flatMap((origin) =>
              origin.file === file && origin.sheet === sheet ? [origin.row] : [],
            );
          expect(new Set(rows).size).toBe(rowsRead);
        }
      }),
      { seed: seed + 4, numRuns: 500 },
    );
  });

  it('read again with the answers it keeps is the same', () => {
    fc.assert(
      fc.property(book, options, (workbook, asked) => {
        const once = readSchedule(workbook, asked);
        if (!once.ok || once.project.source === null) return;
        const { profile } = asked;
        const { answers } = once.project.source;
        const again = readSchedule(workbook, {
          answers,
          ...(profile === undefined ? {} : { profile }),
        });
        expect(again.ok && again.project).toEqual(once.project);
      }),
      { seed: seed + 5, numRuns: 600 },
    );
  });

  it('revised by itself changes nothing', () => {
    fc.assert(
      fc.property(book, (workbook) => {
        const read = readSchedule(workbook, {});
        if (!read.ok) return;
        const { project } = read;
        expect(reviseProject(project, structuredClone(project), structuredClone(project))).toEqual({
          changes: [],
          differences: [],
        });
      }),
      { seed: seed + 6, numRuns: 300 },
    );
  });

  it('gives the same result every time', () => {
    fc.assert(
      fc.property(book, options, (workbook, asked) => {
        expect(readSchedule(workbook, asked)).toEqual(readSchedule(workbook, asked));
      }),
      { seed: seed + 2, numRuns: 150 },
    );
  });

  it('never has a negative length, load or current, nor an unfit power factor', () => {
    fc.assert(
      fc.property(book, (workbook) => {
        const result = readSchedule(workbook, {});
        if (!result.ok) return;
        for (const f of result.project.fixtures) {
          for (const value of [f.spanM, f.installedM, f.loadW, f.leakageMa, f.unitLoad]) {
            expect(value ?? 0).toBeGreaterThanOrEqual(0);
          }
          expect(f.powerFactor ?? 1).toBeGreaterThan(0);
          expect(f.powerFactor ?? 1).toBeLessThanOrEqual(1);
        }
      }),
      { seed: seed + 3, numRuns: 500 },
    );
  });
});
