/** Whatever was edited, the export reads back as the same document (property test, kept seeds). */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readSourceFile } from '../../src-main/workbook/read-file.ts';
import { writeMarkedUpWorkbook } from '../../src-main/workbook/write-workbook.ts';
import type { ColumnId } from '../../src-shared/columns/column-table.ts';
import { applyCommand } from '../../src-shared/document/apply.ts';
import { type CellValue, editCell } from '../../src-shared/document/edit-cell.ts';
import { setLock } from '../../src-shared/document/edit-rows.ts';
import type { Project } from '../../src-shared/document/project.ts';
import { readSchedule } from '../../src-shared/exchange/read-schedule.ts';

function read(bytes: Uint8Array): Project {
  const file = readSourceFile(bytes, 'job.xlsx');
  if (!file.ok || file.kind !== 'workbook') throw new Error(JSON.stringify(file));
  const schedule = readSchedule(file.workbook, {});
  if (!schedule.ok) throw new Error(JSON.stringify(schedule.refusal));
  return schedule.project;
}

const fileOf = (path: string) => read(readFileSync(new URL(path, import.meta.url)));

const tenths = fc.integer({ min: 0, max: 4000 }).map((n) => n / 10);
const feet = tenths.map((n) => (n * 3048) / 10000);
const metres = fc.oneof(tenths, feet, fc.double({ min: 0.01, max: 500, noNaN: true }));
const words = fc.constantFrom(
  '=1+1',
  '+44',
  '@x',
  'S 12',
  'F 3',
  '0123',
  '1e5',
  '_x0041_',
  'a "b" & <c>',
  '漢字',
  'L-3',
  "12'",
);
const whole = (max: number) => fc.integer({ min: 1, max });
const orBlank = (values: fc.Arbitrary<CellValue>) =>
  fc.oneof({ weight: 4, arbitrary: values }, { weight: 1, arbitrary: fc.constant(null) });

const values: Partial<Record<ColumnId, fc.Arbitrary<CellValue>>> = {
  type: orBlank(words),
  fedFrom: orBlank(words),
  span: orBlank(metres),
  installed: orBlank(metres),
  load: orBlank(tenths),
  powerFactor: orBlank(fc.integer({ min: 1, max: 1000 }).map((n) => n / 1000)),
  universe: orBlank(whole(40)),
  address: orBlank(whole(512)),
  mode: orBlank(words),
  footprint: orBlank(whole(512)),
  unitLoad: orBlank(fc.constantFrom(0.125, 0.25, 0.5, 1)),
  leakage: orBlank(tenths),
  shareSet: orBlank(words),
  location: orBlank(words),
  remarks: orBlank(words),
  homeRun: orBlank(metres),
  supply: fc.constantFrom(120, 208, 230, 277, 347),
  breaker: fc.constantFrom(10, 15, 16, 20),
  protection: fc.constantFrom('RCD 30 mA', 'Class A GFCI', 'none'),
};
const columns = Object.keys(values) as ColumnId[];

const edit = fc.record({
  row: fc.nat(1000),
  column: fc.constantFrom(...columns),
  lock: fc.integer({ min: 0, max: 9 }).map((n) => n === 0),
});
const edits = fc.array(
  edit.chain((e) => (values[e.column] ?? fc.constant(null)).map((value) => ({ ...e, value }))),
  { minLength: 1, maxLength: 40 },
);

type Edits = typeof edits extends fc.Arbitrary<infer T> ? T : never;

function editedBy(project: Project, list: Edits): Project {
  let current = project;
  for (const { row, column, value, lock } of list) {
    const id = current.fixtures[row % current.fixtures.length]?.id ?? '';
    const made = lock
      ? ({ ok: true, command: setLock(current, [id], column, true) } as const)
      : editCell(current, id, column, value);
    if (!made.ok) continue;
    const applied = applyCommand(current, made.command);
    if (applied.ok) current = applied.project;
  }
  return current;
}

const fixturesOf = (project: Project) =>
  project.fixtures.map(({ origin: _origin, ...fixture }) => fixture);
const runsOf = (project: Project) =>
  project.runs.map(({ circuitId, ...run }) => {
    const circuit = project.circuits.find((c) => c.id === circuitId);
    return {
      ...run,
      panel: circuit?.panel,
      circuit: circuit?.name,
      breakerA: circuit?.breakerA,
      protection: circuit?.protection,
    };
  });

describe.each([
  ['the demo', '../../src-main/demo/foxglove-roundhouse.xlsx', 20310504],
  ['the second job', '../files/second-job/thistlemere-aqueduct.xlsx', 20310505],
])('export, then import: %s', (_, path, seed) => {
  const job = fileOf(path);

  it('is the document it was', async () => {
    await fc.assert(
      fc.asyncProperty(edits, async (list) => {
        const project = editedBy(job, list);
        const back = read(await writeMarkedUpWorkbook(project));
        expect(fixturesOf(back)).toEqual(fixturesOf(project));
        expect(runsOf(back)).toEqual(runsOf(project));
      }),
      { seed, numRuns: 25 },
    );
  }, 120_000);
});
