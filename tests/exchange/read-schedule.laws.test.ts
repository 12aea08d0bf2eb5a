/** What holds for any sheet at all: random sheets, kept seeds. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { SourceWorkbook } from '../../src-shared/document/source-workbook.ts';
import { type ReadOptions, readSchedule } from '../../src-shared/exchange/read-schedule.ts';
import { checkReferences } from '../../src-shared/format/check-references.ts';
import { projectSchema } from '../../src-shared/format/project-schema.ts';
import { type CellInput, sheetOf, workbookOf } from './build-workbook.ts';

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
      { answers: new Map([['Schedule!B3', '12 ft']]) },
      { answers: new Map([['Schedule!A4', null]]) },
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
        const sheet = workbook.sheets.find((s) => s.name === source?.sheets[0]?.sheet);
        const below = (sheet?.rows ?? []).filter(
          (r) => r.number > (source?.sheets[0]?.headerRow ?? 0),
        );
        const skipped = source?.sheets[0]?.rowsSkipped.map((r) => r.row) ?? [];
        const read = [...new Set(fixtures.map((f) => f.origin?.row ?? 0))];
        expect(read).toHaveLength(source?.sheets[0]?.rowsRead ?? -1);
        expect([...read, ...skipped].sort((a, b) => a - b)).toEqual(below.map((r) => r.number));
      }),
      { seed: seed + 1, numRuns: 1200 },
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
