/** The host's own small files: damaged ones, full disks, many at once. */
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeEach, expect, test } from 'vitest';
import { z } from 'zod';
import { StateFile } from '../../src-main/projects/state-file.ts';
import { DiskFiles } from '../../src-main/services/disk-files.ts';
import { createMemoryStore } from '../../src-main/services/memory-store.ts';
import { RecentFiles } from '../../src-main/services/recent-files.ts';
import type { Reason } from '../../src-shared/contract/requests.ts';
import { faultyFs, SystemFault } from './faulty-fs.ts';

const top = mkdtempSync(join(tmpdir(), 'runledger-state-'));
afterAll(() => rmSync(top, { recursive: true, force: true }));

let folder = '';
let told: Reason[] = [];
beforeEach(() => {
  folder = mkdtempSync(join(top, 'case-'));
  told = [];
});
const tell = (reason: Reason) => told.push(reason);
const numbers = (more: Partial<ConstructorParameters<typeof StateFile<number[]>>[0]> = {}) =>
  new StateFile<number[]>({
    path: join(folder, 'deeper', 'numbers.json'),
    schema: z.array(z.int()),
    empty: [],
    title: 'The numbers',
    told: tell,
    ...more,
  });

test('changes made at once all hold, and nothing else is left in the folder', async () => {
  const file = numbers();
  const all = [...Array(20).keys()];
  const saved = await Promise.all(all.map((n) => file.change((now) => [...now, n])));
  expect(saved.every(({ ok }) => ok)).toBe(true);
  expect(await numbers().read()).toEqual(all);
  expect(readdirSync(join(folder, 'deeper'))).toEqual(['numbers.json']);
});

test.each([
  ['cut off', '[1,'],
  ['of another form', '{"a":1}'],
  ['not text', '\u0000\u0001'],
  ['empty', ''],
])('a file that is %s is set aside, told of once, and begins anew', async (_name, text) => {
  const path = join(folder, 'numbers.json');
  writeFileSync(path, text);
  const file = numbers({ path });
  expect(await file.read()).toEqual([]);
  expect(await file.read()).toEqual([]);
  expect(told).toMatchObject([{ code: 'damaged', where: path }]);
  expect(readFileSync(`${path}.damaged`, 'utf8')).toBe(text);
  await file.change(() => [7]);
  expect(await file.read()).toEqual([7]);
});

test('a fault at any call of the file system: not kept, with a reason, and what stood stands', async () => {
  const path = join(folder, 'numbers.json');
  for (let nth = 1; ; nth += 1) {
    writeFileSync(path, '[1]');
    const { fs, calls } = faultyFs((_call, count) => {
      if (count === nth) throw new SystemFault('ENOSPC');
    });
    const saved = await numbers({ path, fs }).change((now) => [...now, 2]);
    if (calls.length < nth) {
      expect(saved.ok).toBe(true);
      break;
    }
    expect(['[1]', '[1,2]\n']).toContain(readFileSync(path, 'utf8'));
    if (!saved.ok) expect(saved.reason.what).not.toBe('');
  }
});

test('of one kind the latest 200 texts are kept; another kind is not pushed out', async () => {
  const path = join(folder, 'memory.json');
  const memory = createMemoryStore(path, tell);
  await memory.keep('window.theme', 'dark');
  const texts = Object.fromEntries([...Array(200).keys()].map((n) => [`import.${n}`, String(n)]));
  const kept = JSON.parse(readFileSync(path, 'utf8'));
  writeFileSync(path, JSON.stringify({ ...kept, texts: { ...kept.texts, ...texts } }));
  // Number 0 is used again, so number 1 is the oldest.
  await memory.keep('import.0', 'again');
  await memory.keep('import.new', 'x');
  const all = await memory.all();
  expect(Object.keys(all)).toHaveLength(201);
  expect(all).toMatchObject({ 'window.theme': 'dark', 'import.0': 'again', 'import.new': 'x' });
  expect(all['import.1']).toBeUndefined();
  expect(told).toEqual([]);
});

test('texts that would make the file as large as a damaged one make room, the oldest first', async () => {
  const path = join(folder, 'memory.json');
  const long = 'x'.repeat(100_000);
  const texts = Object.fromEntries([...Array(195).keys()].map((n) => [`import.a${n}`, long]));
  writeFileSync(path, JSON.stringify({ format: 'runledger-memory', version: 1, texts }));
  const memory = createMemoryStore(path, tell);
  for (let n = 0; n < 6; n += 1) await memory.keep(`grid.b${n}`, long);
  const all = await memory.all();
  expect(told).toEqual([]);
  expect(all).toMatchObject({ 'import.a194': long, 'grid.b0': long, 'grid.b5': long });
  expect(all['import.a0']).toBeUndefined();
});

test('two programs that share the folder do not undo each other', async () => {
  const path = join(folder, 'memory.json');
  const [one, two] = [createMemoryStore(path, tell), createMemoryStore(path, tell)];
  await one.keep('a.1', 'one');
  await two.keep('a.2', 'two');
  await one.keep('a.3', 'three');
  expect(await two.all()).toEqual({ 'a.1': 'one', 'a.2': 'two', 'a.3': 'three' });
});

test('recent files: newest first, ten at most, missing ones dropped, no path in what is held', async () => {
  const disk = new DiskFiles();
  const recent = new RecentFiles(join(folder, 'recent.json'), disk, tell);
  const paths = [...Array(12).keys()].map((n) => join(folder, `${n}.csv`));
  for (const path of paths) {
    writeFileSync(path, 'Tag\nA\n');
    await recent.add(disk.at(path));
  }
  await recent.add(disk.at(paths[5] ?? ''));
  rmSync(paths[11] ?? '');
  const held = await recent.held();
  expect(held.map(({ name }) => name)).toEqual([5, 10, 9, 8, 7, 6, 4, 3, 2].map((n) => `${n}.csv`));
  expect(JSON.stringify(held)).not.toContain(folder);
  // The same id as long as the program runs.
  expect(await recent.held()).toEqual(held);
  expect(JSON.parse(readFileSync(join(folder, 'recent.json'), 'utf8')).paths).toHaveLength(9);
});
