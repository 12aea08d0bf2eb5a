/**
 * The whole way of other people's workbooks: read, ten edits, marked up, and opened by LibreOffice
 * (kept results and worked out anew) and openpyxl. Nothing may differ but what is ours.
 */
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { markUpWorkbook } from '../../src-main/workbook/patch/mark-up-workbook.ts';
import { readSourceFile } from '../../src-main/workbook/read-file.ts';
import type { ColumnId } from '../../src-shared/columns/column-table.ts';
import { columnOf } from '../../src-shared/document/import-answers.ts';
import type { Fixture, Project } from '../../src-shared/document/project.ts';
import { columnLetters, type SourceWorkbook } from '../../src-shared/document/source-workbook.ts';
import { indexStated, statedValue } from '../../src-shared/exchange/export/stated-value.ts';
import { readSchedule } from '../../src-shared/exchange/read-schedule.ts';
import { isDitto } from '../../src-shared/exchange/schedule/cell-text.ts';
import { findProgram, findPythonWith } from '../house/need.ts';
import {
  type CellsSet,
  type FoundSheet,
  loadWithOpenpyxl,
  openInLibreOffice,
  type Sheets,
  setWithOpenpyxl,
} from './open-elsewhere.ts';
import { tenEdits } from './ten-edits.ts';

const soffice = findProgram('soffice') ?? findProgram('libreoffice');
const python = findPythonWith('openpyxl');
const files = new URL('../files/', import.meta.url);

/** Two files that speak of the same fixtures: each is marked up once, with the other merged in. */
const together: ReadonlyMap<string, readonly string[]> = new Map([
  ['tarnmoor-patch.xlsx', ['tarnmoor-install.xlsx']],
  ['tarnmoor-install.xlsx', ['tarnmoor-patch.xlsx']],
]);

/** Jobs by name: the files read together, the first of which is marked up. */
const jobs: ReadonlyMap<string, readonly string[]> = new Map(
  ['arrivals', 'rich'].flatMap((folder) =>
    readdirSync(new URL(folder, files))
      .filter((name) => name.endsWith('.xlsx'))
      .map((name): [string, string[]] => [
        name.replace(/\.xlsx$/u, ''),
        [name, ...(together.get(name) ?? [])].map((one) =>
          fileURLToPath(new URL(`${folder}/${one}`, files)),
        ),
      ]),
  ),
);

function read(bytes: Uint8Array, name: string): SourceWorkbook {
  const outcome = readSourceFile(bytes, name);
  if (!outcome.ok || outcome.kind !== 'workbook') throw new Error(`${name} was not read`);
  return outcome.workbook;
}

function scheduleOf(workbooks: readonly SourceWorkbook[]): Project {
  const schedule = readSchedule(workbooks, {});
  if (!schedule.ok) throw new Error(schedule.refusal.what);
  return schedule.project;
}

/** Cells whose fixture says something else in their column than it did, as `Sheet!K12`. */
function changedCells(before: Project, edited: Project): Set<string> {
  const cells = new Set<string>();
  const { source } = before;
  if (source === null) return cells;
  const [was, is] = [indexStated(before), indexStated(edited)];
  const now = new Map(edited.fixtures.map((fixture) => [fixture.id, fixture]));
  for (const fixture of before.fixtures) {
    const after = now.get(fixture.id);
    if (after === undefined || fixture.origin === null) continue;
    for (const [place, { columnId }] of source.columns.entries()) {
      const column = columnOf(source, fixture.origin, place);
      if (columnId === null || column === null) continue;
      const id = columnId as ColumnId;
      if (statedValue(fixture, id, was) === statedValue(after, id, is)) continue;
      cells.add(`${fixture.origin.sheet}!${columnLetters(column)}${fixture.origin.row}`);
    }
  }
  return cells;
}

interface Travelled {
  readonly before: Project;
  readonly edited: Project;
  readonly marked: Uint8Array;
  /** Cells of the engineer's that carry another value now, as `Sheet!K12`. */
  readonly changed: ReadonlySet<string>;
}

async function travel(paths: readonly string[]): Promise<Travelled> {
  const named = paths.map((path) => ({
    name: path.slice(path.lastIndexOf('/') + 1),
    bytes: new Uint8Array(readFileSync(path)),
  }));
  const before = scheduleOf(named.map(({ bytes, name }) => read(bytes, name)));
  const { project: edited, done } = tenEdits(before);
  expect(done).toHaveLength(10);
  const [first] = named;
  if (first === undefined) throw new Error('a job without a file');
  const marked = await markUpWorkbook(first.bytes, first.name, edited, { file: 0 });
  if (!marked.ok) throw new Error(marked.reason.what);
  const changed = changedCells(before, edited);
  return { before, edited, marked: marked.bytes, changed };
}

const travelled = new Map<string, Travelled>();
/** Why a job did not travel: its own tests fail with it, the others go on. */
const faults = new Map<string, Error>();
let folder = '';

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'runledger-travel-'));
  for (const side of ['before', 'after']) mkdirSync(join(folder, side));
  for (const [name, paths] of jobs) {
    const one = await travel(paths).catch((fault: unknown) => fault);
    if (one instanceof Error) {
      faults.set(name, one);
      continue;
    }
    travelled.set(name, one as Travelled);
    writeFileSync(join(folder, 'before', `${name}.xlsx`), readFileSync(paths[0] ?? ''));
    writeFileSync(join(folder, 'after', `${name}.xlsx`), (one as Travelled).marked);
  }
}, 120_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function of(name: string): Travelled {
  const one = travelled.get(name);
  const fault = faults.get(name);
  if (fault !== undefined) throw fault;
  if (one === undefined) throw new Error(`${name} did not travel`);
  return one;
}

/** Everything a fixture says, but for where it stood. */
const said = ({ origin: _o, alsoFrom: _a, id: _i, ...fixture }: Fixture) => fixture;

/** Cells of the first book that the second shows otherwise, as `Sheet!K12: was → is`. */
function differences(before: Sheets, after: Sheets, changed: ReadonlySet<string>): string[] {
  const found: string[] = [];
  for (const [sheet, rows] of before) {
    const now = after.get(sheet);
    if (now === undefined) {
      found.push(`sheet ${sheet} is gone`);
      continue;
    }
    rows.forEach((row, r) => {
      row.forEach((was, c) => {
        const is = now[r]?.[c] ?? '';
        const cell = `${sheet}!${columnLetters(c)}${r + 1}`;
        // An empty cell may have got something of ours, right of what the engineer has.
        // A ditto mark below an edited cell says what it meant.
        if (is === was || changed.has(cell) || was === '' || isDitto(was)) return;
        found.push(`${cell}: ${was} → ${is}`);
      });
    });
  }
  return found;
}

describe.each([...jobs.keys()])('%s', (name) => {
  test('comes back with the ten edits', () => {
    const { edited, marked } = of(name);
    const again = scheduleOf([read(marked, `${name}.xlsx`)]);
    expect(again.fixtures.map(({ id }) => id).sort()).toEqual(
      edited.fixtures.map(({ id }) => id).sort(),
    );
    const byId = new Map(again.fixtures.map((fixture) => [fixture.id, fixture]));
    for (const fixture of edited.fixtures) {
      const back = byId.get(fixture.id);
      expect(back === undefined ? null : said(back)).toEqual(said(fixture));
    }
    const plain = ({ types, lines, supplies, runs, circuits, settings }: Project) => ({
      types,
      lines,
      supplies,
      runs,
      circuits: circuits.map(({ id: _id, ...circuit }) => circuit),
      settings,
    });
    expect(plain(again)).toEqual(plain(edited));
  });

  test('a second way round adds nothing twice', async () => {
    const { marked } = of(name);
    const back = scheduleOf([read(marked, `${name}.xlsx`)]);
    const twice = await markUpWorkbook(marked, `${name}.xlsx`, back, { file: 0 });
    if (!twice.ok) throw new Error(twice.reason.what);
    const shape = (bytes: Uint8Array) =>
      read(bytes, 'x.xlsx').sheets.map(({ name: sheet, rows }) => ({
        sheet,
        columns: Math.max(0, ...rows.flatMap((row) => row.cells.map(({ column }) => column))),
      }));
    expect(shape(twice.bytes)).toEqual(shape(marked));
  });
});

/** Cells of the schedule that are read as something. */
function cellsRead({ source, fixtures }: Project): Set<string> {
  const cells = new Set<string>();
  for (const { origin } of fixtures) {
    if (source === null || origin === null) continue;
    for (const [place, { columnId }] of source.columns.entries()) {
      const column = columnId === null ? null : columnOf(source, origin, place);
      if (column !== null) cells.add(`${origin.sheet}!${columnLetters(column)}${origin.row}`);
    }
  }
  return cells;
}

function textAt(rows: Sheets extends ReadonlyMap<string, infer R> ? R : never, cell: string) {
  const [, letters = '', row = ''] = /^([A-Z]+)(\d+)$/u.exec(cell) ?? [];
  const texts = rows[Number(row) - 1] ?? [];
  return texts.find((_, column) => columnLetters(column) === letters) ?? '';
}

/** What a cell says in a sheet, as its stored value. */
function valueAt(workbook: SourceWorkbook, cell: string) {
  const at = cell.lastIndexOf('!');
  const [, letters = '', row = ''] = /^([A-Z]+)(\d+)$/u.exec(cell.slice(at + 1)) ?? [];
  const sheet = workbook.sheets.find(({ name }) => name === cell.slice(0, at));
  const cells = sheet?.rows.find(({ number }) => number === Number(row))?.cells ?? [];
  return cells.find(({ column }) => columnLetters(column) === letters)?.value ?? null;
}

const needs = soffice === null ? 'LibreOffice' : 'openpyxl';
describe.skipIf(soffice === null || python === null)(
  `needs ${needs}: in LibreOffice nothing differs but what is ours`,
  () => {
    /** The engineer's file as it came; that with the edits alone, put in by openpyxl; ours. */
    const sides = { before: new Map<string, Sheets>(), after: new Map<string, Sheets>() };
    let expected = new Map<string, Sheets>();
    let anew = new Map<string, Sheets>();
    beforeAll(() => {
      const names = [...travelled.keys()];
      mkdirSync(join(folder, 'expected'));
      const sets = names.map((name) => {
        const marked = read(of(name).marked, `${name}.xlsx`);
        const cells = [...of(name).changed].map((cell): CellsSet['cells'][number] => {
          const at = cell.lastIndexOf('!');
          return [cell.slice(0, at), cell.slice(at + 1), valueAt(marked, cell)];
        });
        const file = (side: string) => join(folder, side, `${name}.xlsx`);
        return { from: file('before'), to: file('expected'), cells };
      });
      setWithOpenpyxl(python ?? '', sets);
      const open = (side: string, recalculated: boolean) =>
        openInLibreOffice(soffice ?? '', join(folder, side), names, recalculated);
      sides.before = open('before', false);
      sides.after = open('after', false);
      expected = open('expected', true);
      anew = open('after', true);
    }, 600_000);

    test.each([...jobs.keys()])('%s, every formula worked out anew', (name) => {
      const { changed, before } = of(name);
      const said = cellsRead(before);
      const [was, is] = [expected.get(name), anew.get(name)];
      expect(was?.size).toBeGreaterThan(0);
      expect(is?.size).toBeGreaterThan(was?.size ?? 0);
      const original = sides.before.get(name);
      const others = differences(was ?? new Map(), is ?? new Map(), changed).filter((one) => {
        // A formula of the schedule that hangs on an edited cell keeps saying what the job says; and
        // openpyxl writes the target of a link into its empty cell.
        const cell = one.slice(0, one.indexOf(': '));
        const at = cell.lastIndexOf('!');
        const kept = textAt(original?.get(cell.slice(0, at)) ?? [], cell.slice(at + 1));
        return !one.endsWith(` → ${kept}`) || (kept !== '' && !said.has(cell));
      });
      expect(others).toEqual([]);
    });

    test.each([...jobs.keys()])('%s, with the results kept in it', (name) => {
      const { changed } = of(name);
      const [was, is] = [sides.before.get(name), sides.after.get(name)];
      // A result that hangs on an edited cell was taken out, so that it is worked out anew.
      const hang = differences(was ?? new Map(), anew.get(name) ?? new Map(), changed);
      const cells = new Set([...changed, ...hang.map((one) => one.slice(0, one.indexOf(': ')))]);
      expect(differences(was ?? new Map(), is ?? new Map(), cells)).toEqual([]);
    });
  },
);

describe.skipIf(python === null)('needs openpyxl: nothing differs but what is ours', () => {
  type Found = ReturnType<typeof loadWithOpenpyxl>[string];
  let found: Readonly<Record<string, Found>> = {};
  const at = (side: string, name: string) => found[join(folder, side, `${name}.xlsx`)];
  beforeAll(() => {
    const paths = [...travelled.keys()].flatMap((name) =>
      ['before', 'after'].map((side) => join(folder, side, `${name}.xlsx`)),
    );
    found = loadWithOpenpyxl(python ?? '', paths);
  }, 300_000);
  test.each([...jobs.keys()])('%s', (name) => {
    const { changed, before: job } = of(name);
    const schedule = cellsRead(job);
    const was = at('before', name);
    const is = at('after', name);
    if (was === undefined || is === undefined) throw new Error('not looked at');
    if ('fault' in was) throw new Error(was.fault);
    if ('fault' in is) throw new Error(is.fault);
    for (const [sheet, before] of Object.entries(was.sheets)) {
      const after = is.sheets[sheet];
      if (after === undefined) throw new Error(`sheet ${sheet} is gone`);
      const wrong: string[] = [];
      for (const [cell, looks] of Object.entries(before.cells)) {
        const now = after.cells[cell] ?? [];
        // A marked cell is shaded and may be outlined; its value, format and font stay.
        const kept = (list: readonly unknown[]) =>
          list.slice(changed.has(`${sheet}!${cell}`) ? 2 : 0, 7);
        const text = looks[0];
        if ((text === null && now[0] !== null) || (typeof text === 'string' && isDitto(text)))
          continue;
        // A formula of the schedule that hangs on an edited cell has become what the job says.
        if (looks[1] === 'f' && now[1] !== 'f' && schedule.has(`${sheet}!${cell}`)) continue;
        if (JSON.stringify(kept(looks)) !== JSON.stringify(kept(now)))
          wrong.push(`${cell}: ${JSON.stringify(kept(looks))} → ${JSON.stringify(kept(now))}`);
      }
      expect(wrong).toEqual([]);
      for (const part of ['merges', 'validations', 'conditional', 'tables', 'links'] as const)
        expect(after[part]).toEqual(expect.arrayContaining([...before[part]]));
      expect(after.charts).toBe(before.charts);
      expect(after.images).toBe(before.images);
      expect(after.widths).toMatchObject(before.widths);
      for (const [cell, note] of Object.entries(before.notes))
        expect(after.notes[cell]).toContain(note);
      // A sheet fitted to one page may be fitted to more of them side by side, which is told.
      const [fit, fitted] = [before.print[3], after.print[3]].map(Number);
      expect(fitted ?? 0).toBeGreaterThanOrEqual(fit ?? 0);
      const printed = ({ print }: FoundSheet) => print.filter((_, place) => place !== 3);
      expect([printed(after), after.frozen, after.filter, after.state, after.protected]).toEqual([
        printed(before),
        before.frozen,
        before.filter,
        before.state,
        before.protected,
      ]);
    }
    expect(Object.keys(is.names)).toEqual(expect.arrayContaining(Object.keys(was.names)));
  });
});
