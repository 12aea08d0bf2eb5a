import { writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readSourceFile } from '../../src-main/workbook/read-file.ts';
import { readSourceFileInWorker } from '../../src-main/workbook/read-in-worker.ts';
import { readSchedule } from '../../src-shared/exchange/read-schedule.ts';
import type { BadInput } from './bad-input/bad-input.ts';
import { corpus } from './bad-input/corpus.ts';
import { type CutFile, cutFiles } from './bad-input/cuts.ts';
import { schedule } from './bad-input/good-package.ts';
import { type Measured, Measurer, type Outcome } from './bad-input/measure.ts';
import { badInputTable, type TableRow } from './bad-input/table.ts';

// No outside source: the kinds of bad input are those of this project's own quality statements.

const MOST_MS = 5_000;
const MOST_MB = 300;
/** For a schedule of as many rows as are taken in: reading, and the document made of it. */
const MOST_MB_WITH_DOCUMENT = 400;

const measurer = new Measurer();
/** Rows of the table by title: a file measured again has one. */
const rows = new Map<string, TableRow>();
/** Message → kinds of files that got it. */
const sentences = new Map<string, Set<string>>();

beforeAll(() => measurer.prepare());
afterAll(() => {
  measurer.end();
  // The bad-input table of the test report.
  console.log(badInputTable([...rows.values()]));
});

type Refusal = Extract<Outcome, { ok: false }>['refusal'];

function checkWords(refusal: Refusal): void {
  const { what, where, todo } = refusal;
  expect(what).toMatch(/^[A-Z].+\.$/s);
  expect(where).toMatch(/^(schedule|plan|job|cut)\.|^sheet "/);
  expect(todo).toMatch(/^[A-Z].{10,}\.$/s);
  expect(Object.values(refusal).join()).not.toMatch(/Error\b|undefined|NaN|\bat \w+ \(/);
}

function check(file: BadInput, { outcome, threw, ms, cpuMs, mb }: Measured): void {
  const { expected, title, kind = title } = file;
  expect(threw, 'an error came through').toBeUndefined();
  if (!outcome) throw new Error('no outcome');
  if (outcome.ok) {
    const remarks = outcome.remarks.join(' ');
    expect(expected, `read, with remarks: ${remarks}`).toHaveProperty('fixtures');
    if (!('fixtures' in expected)) return;
    expect(outcome.fixtures).toBe(expected.fixtures);
    if (expected.remark === null) expect(outcome.remarks).toEqual([]);
    else expect(remarks).toMatch(expected.remark);
  } else {
    const { refusal } = outcome;
    expect(expected, JSON.stringify(refusal)).toEqual({ refused: refusal.code });
    checkWords(refusal);
    sentences.set(refusal.what, (sentences.get(refusal.what) ?? new Set()).add(kind));
  }
  // Other tests run beside this one: then the processor's time counts.
  expect(Math.min(ms, cpuMs)).toBeLessThan(MOST_MS);
  expect(ms).toBeLessThan(3 * MOST_MS);
  expect(mb).not.toBeNull();
  expect(mb).toBeLessThan(file.isDocument ? MOST_MB_WITH_DOCUMENT : MOST_MB);
}

describe('each bad file', () => {
  // Measured again when it took too long: other tests run beside it.
  const again = { retry: 2 };
  test.each(corpus.map((file) => [file.title, file] as const))('%s', again, async (_, file) => {
    const bytes = file.make();
    const fresh = file.fresh === true;
    const measured = await measurer.measure(bytes, file.fileName, fresh);
    const { title } = file;
    rows.set(title, { title, bytes: bytes.length, measured, mark: fresh ? '*' : '' });
    check(file, measured);
  });

  test('no two kinds of fault have the same message', () => {
    const shared = [...sentences].filter(([, kinds]) => kinds.size > 1);
    expect(shared.map(([what, kinds]) => [what, ...kinds])).toEqual([]);
  });
});

function outcomeOf(bytes: Uint8Array, fileName: string): Outcome {
  const read = readSourceFile(bytes, fileName);
  if (!read.ok) return read;
  if (read.kind === 'project') throw new Error('a stump was taken for a project');
  const found = readSchedule(read.workbook, {});
  if (!found.ok) return { ok: false, refusal: found.refusal };
  const { remarks } = read.workbook;
  return { ok: true, fixtures: found.project.fixtures.length, remarks };
}

/** Reads each stump, and puts a row in the table for each thing that was said of some. */
function readStumps({ title, fileName, bytes, lengths }: CutFile): Outcome[] {
  const groups = new Map<string, { count: number; ms: number; outcome: Outcome }>();
  const outcomes = lengths.map((length) => {
    const start = performance.now();
    const outcome = outcomeOf(bytes.subarray(0, length), fileName);
    const ms = performance.now() - start;
    const said = outcome.ok ? outcome.remarks.join(' ') : outcome.refusal.what;
    const group = groups.get(said) ?? { count: 0, ms: 0, outcome };
    groups.set(said, { ...group, count: group.count + 1, ms: Math.max(group.ms, ms) });
    return outcome;
  });
  for (const { count, ms, outcome } of groups.values()) {
    const measured = { outcome, ms, cpuMs: ms, mb: null };
    const row = `${title}: ${count} of ${lengths.length}`;
    rows.set(`${row} ${rows.size}`, { title: row, bytes: bytes.length, measured, mark: '†' });
    expect(ms).toBeLessThan(MOST_MS);
  }
  return outcomes;
}

describe('each file cut off', () => {
  test.each(cutFiles().map((file) => [file.title, file] as const))('%s', (_, file) => {
    const isCsv = file.fileName.endsWith('.csv');
    for (const [at, outcome] of readStumps(file).entries()) {
      const length = file.lengths[at] ?? 0;
      const message = `${length} bytes: ${JSON.stringify(outcome)}`;
      if (outcome.ok) {
        // Cut between rows, or within its last cell, a csv file cannot be told from a whole one.
        expect(isCsv, message).toBe(true);
        const left = new TextDecoder().decode(file.bytes.subarray(0, length));
        const [line = ''] = left.split('\r\n').slice(-1);
        const isHalf = line !== '' && line.split(',').length < 5;
        if (isHalf) expect(outcome.remarks.join(), message).toMatch(/may be cut off/);
        continue;
      }
      expect(file.codes, message).toContain(outcome.refusal.code);
      checkWords(outcome.refusal);
    }
  });
});

test('a reader that takes too much is ended, and the next file is read', async () => {
  // exceljs expands merged areas cell by cell: this file of 2 kB would take all memory there is.
  const exceljs = createRequire(import.meta.url).resolve('exceljs');
  const naive = join(measurer.folder, 'naive-reader.mjs');
  writeFileSync(
    naive,
    `import { createRequire } from 'node:module';
     import { workerData } from 'node:worker_threads';
     const { Workbook } = createRequire(import.meta.url)(${JSON.stringify(exceljs)});
     await new Workbook().xlsx.load(workerData.bytes);`,
  );
  const bytes = schedule({
    rows: '<row r="1"><c r="A1"><v>1</v></c></row>',
    after: '<mergeCells><mergeCell ref="A1:XFD1048576"/></mergeCells>',
  });
  const start = performance.now();
  const ended = await readSourceFileInWorker(bytes, 'merged.xlsx', {
    workerUrl: pathToFileURL(naive),
    timeoutMs: 3_000,
  });
  const ms = performance.now() - start;
  expect(ended.ok ? 'read' : ended.refusal.code).toMatch(/^(memory|timeout)$/);
  expect(ms).toBeLessThan(MOST_MS);
  // The same file, then a sound one, by the product's reader in the same host.
  const { workerUrl } = measurer;
  expect(await readSourceFileInWorker(bytes, 'merged.xlsx', { workerUrl })).toMatchObject({
    ok: true,
    workbook: { sheets: [{ rows: [{ cells: [{ value: 1 }] }] }] },
  });
  const sound = await readSourceFileInWorker(schedule(), 'sound.xlsx', { workerUrl });
  expect(sound.ok && sound.kind === 'workbook' && sound.workbook.sheets[0]?.rows).toHaveLength(4);
});
