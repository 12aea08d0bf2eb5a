/** A file the host knows by its path: opened, saved in place, guarded. */
import {
  chmodSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  unlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeEach, expect, test } from 'vitest';
import { unpackProject } from '../../src-main/projects/unpack-project.ts';
import { DiskFile } from '../../src-main/services/disk-file.ts';
import { FileStore } from '../../src-main/services/file-store.ts';
import { findNamedFile } from '../../src-main/services/named-file.ts';
import { faultyFs, SystemFault } from '../projects/faulty-fs.ts';
import { sampleFile, sampleText } from '../projects/sample-file.ts';
import { type Bench, type Caller, directCaller, makeBench } from './hosts.ts';

const top = mkdtempSync(join(tmpdir(), 'runledger-launch-'));
afterAll(() => rmSync(top, { recursive: true, force: true }));

let folder = '';
let path = '';
let bench: Bench;
beforeEach(() => {
  folder = mkdtempSync(join(top, 'case-'));
  path = join(folder, 'larkspur.runledger');
  writeFileSync(path, sampleFile());
});
afterEach(() => bench.remove());

async function launched(file = new DiskFile(path)): Promise<{ caller: Caller; fileId: string }> {
  bench = makeBench({ launchPath: file.path });
  // As it was registered, or with a file system of the test's own.
  Object.assign(file, { file: bench.parts.disk.at(file.path).file });
  bench.parts.disk.add(file);
  const caller = directCaller(bench);
  const start = await caller.ask('app.start', {});
  if (!start.ok || start.value.launchFile === null) throw new Error('no launch file');
  return { caller, fileId: start.value.launchFile.fileId };
}

/** Opens the file and gives the id it is saved by from then on. */
async function opened({ caller, fileId }: { caller: Caller; fileId: string }): Promise<string> {
  const answer = await caller.ask('file.open', { fileId });
  if (!answer.ok) throw new Error(answer.reason.what);
  return answer.value.file.fileId;
}

const changedText = sampleText.replace('Larkspur Footbridge', 'Larkspur Footbridge C');
const question = (target: string, projectText = changedText) => ({
  projectText,
  sourceFileIds: [],
  target,
  overwrite: false,
  suggestedName: 'x',
});
const nameOnDisk = () => {
  const unpacked = unpackProject(new Uint8Array(readFileSync(path)), 'x');
  return unpacked.ok ? unpacked.project.name : unpacked.reason.what;
};

test('a project named at start is saved in place, time after time', async () => {
  const { caller, fileId } = await launched();
  expect(await caller.ask('file.open', { fileId })).toMatchObject({ value: { writable: true } });
  const target = await opened({ caller, fileId });
  for (const text of [changedText, sampleText, changedText]) {
    expect(await caller.ask('project.save', question(target, text))).toEqual({
      ok: true,
      value: { saved: 'in-place' },
    });
  }
  expect(nameOnDisk()).toBe('Larkspur Footbridge C');
  expect(readdirSync(folder)).toEqual(['larkspur.runledger']);
  // A window that is loaded anew sees what stands on the disk now.
  expect(await caller.ask('file.open', { fileId })).toMatchObject({
    value: { projectText: changedText },
  });
});

test('a schedule named at start is never overwritten', async () => {
  const csv = join(folder, 'schedule.csv');
  writeFileSync(csv, 'Tag,Load\nA-01,87\n');
  const { caller, fileId } = await launched(new DiskFile(csv));
  expect(await caller.ask('file.open', { fileId })).toMatchObject({ value: { kind: 'schedule' } });
  expect(await caller.ask('project.save', question(fileId))).toMatchObject({
    ok: false,
    reason: { code: 'not-a-project' },
  });
  expect(readFileSync(csv, 'utf8')).toBe('Tag,Load\nA-01,87\n');
});

test('a file another program has changed is not overwritten; a missing one is written anew', async () => {
  const start = await launched();
  const { caller } = start;
  const fileId = await opened(start);
  writeFileSync(path, 'changed by someone else');
  expect(await caller.ask('project.save', question(fileId))).toMatchObject({
    ok: false,
    reason: { code: 'changed-on-disk', where: path },
  });
  expect(readFileSync(path, 'utf8')).toBe('changed by someone else');
  // The user was asked, and wants it replaced.
  const mine = { ...question(fileId), overwrite: true };
  expect(await caller.ask('project.save', mine)).toMatchObject({ ok: true });
  expect(nameOnDisk()).toBe('Larkspur Footbridge C');
  unlinkSync(path);
  expect(await caller.ask('project.save', question(fileId))).toMatchObject({ ok: true });
  expect(nameOnDisk()).toBe('Larkspur Footbridge C');
});

test('two windows with the same file: the later save asks, and takes nothing of the earlier away', async () => {
  const start = await launched();
  const { caller } = start;
  const [one, two] = [await opened(start), await opened(start)];
  expect(two).not.toBe(one);
  expect(await caller.ask('project.save', question(one))).toMatchObject({ ok: true });
  expect(await caller.ask('project.save', question(two, sampleText))).toMatchObject({
    ok: false,
    reason: { code: 'changed-on-disk' },
  });
  expect(nameOnDisk()).toBe('Larkspur Footbridge C');
  // Reading it again for anything else takes no leave from the window that has it open.
  writeFileSync(path, sampleFile());
  await caller.ask('file.open', { fileId: start.fileId });
  expect(await caller.ask('project.save', question(one))).toMatchObject({
    reason: { code: 'changed-on-disk' },
  });
});

test('opening a file again that cannot be read leaves the open one guarded', async () => {
  const start = await launched();
  const { caller } = start;
  const fileId = await opened(start);
  writeFileSync(path, sampleFile().subarray(0, 2_000));
  expect((await caller.ask('file.open', { fileId })).ok).toBe(false);
  expect(await caller.ask('project.save', question(fileId))).toMatchObject({
    reason: { code: 'changed-on-disk' },
  });
});

test('a file that is gone says so', async () => {
  const { caller, fileId } = await launched();
  unlinkSync(path);
  expect(await caller.ask('file.open', { fileId })).toMatchObject({
    ok: false,
    reason: { code: 'file-gone', where: path },
  });
});

test('a fault at any call of the file system is "not saved", and the file stays whole', async () => {
  for (let nth = 1; ; nth += 1) {
    writeFileSync(path, sampleFile());
    const { fs, calls } = faultyFs((_call, count) => {
      if (count === nth) throw new SystemFault('EIO');
    });
    const start = await launched(new DiskFile(path, fs));
    const { caller } = start;
    const fileId = await opened(start);
    const answer = await caller.ask('project.save', question(fileId));
    bench.remove();
    if (calls.length < nth) {
      expect(answer.ok).toBe(true);
      break;
    }
    if (answer.ok) expect(calls[nth - 1]).toBe('list');
    expect(nameOnDisk()).toMatch(/^Larkspur Footbridge( C)?$/);
    if (!answer.ok) expect(answer.reason.what).toMatch(/^Not saved\. /);
  }
});

test('after a save that could not be confirmed the next one is not held up by its own bytes', async () => {
  let broken = true;
  const { fs } = faultyFs((call) => {
    if (call === 'syncFolder' && broken) throw new SystemFault('EIO');
  });
  const start = await launched(new DiskFile(path, fs));
  const { caller } = start;
  const fileId = await opened(start);
  expect((await caller.ask('project.save', question(fileId))).ok).toBe(false);
  broken = false;
  expect((await caller.ask('project.save', question(fileId, sampleText))).ok).toBe(true);
  expect(nameOnDisk()).toBe('Larkspur Footbridge');
});

test('a file of an older format is kept beside as .bak before the newer one replaces it', async () => {
  const file = new DiskFile(path);
  const start = await launched(file);
  const { caller } = start;
  const fileId = await opened(start);
  // What the service does when the reader says that the document was migrated.
  file.opened(sampleFile(), true);
  expect((await caller.ask('project.save', question(fileId))).ok).toBe(true);
  expect((await caller.ask('project.save', question(fileId, sampleText))).ok).toBe(true);
  expect(readdirSync(folder).sort()).toEqual(['larkspur.runledger', 'larkspur.runledger.bak']);
  expect(new Uint8Array(readFileSync(`${path}.bak`))).toEqual(sampleFile());
});

test('when the .bak cannot be kept, nothing is replaced', async () => {
  let made = 0;
  const { fs } = faultyFs((call) => {
    if (call !== 'create') return;
    made += 1;
    // The first file made is the backup; a second one would succeed.
    if (made === 1) throw new SystemFault('ENOSPC');
  });
  const file = new DiskFile(path, fs);
  const start = await launched(file);
  const { caller } = start;
  const fileId = await opened(start);
  file.opened(sampleFile(), true);
  expect(await caller.ask('project.save', question(fileId))).toMatchObject({
    reason: { code: 'disk-full' },
  });
  expect(new Uint8Array(readFileSync(path))).toEqual(sampleFile());
});

test('a job with several large source workbooks is saved, and opened again', async () => {
  const start = await launched();
  const { caller } = start;
  const target = await opened(start);
  const sourceFileIds: string[] = [];
  for (const name of ['one.xlsx', 'two.xlsx']) {
    // First bytes of a zip container, so that it is not packed again.
    const bytes = new Uint8Array(35_000_000);
    bytes.set([0x50, 0x4b, 3, 4]);
    sourceFileIds.push((await caller.upload(name, bytes)).fileId);
  }
  const saved = await caller.ask('project.save', { ...question(target), sourceFileIds });
  expect(saved).toEqual({ ok: true, value: { saved: 'in-place' } });
  const again = await caller.ask('file.open', { fileId: start.fileId });
  expect(again).toMatchObject({ value: { sources: [{ name: 'one.xlsx' }, { name: 'two.xlsx' }] } });
});

test('one that could not be opened again is not saved, and why is said', async () => {
  const start = await launched();
  const { caller } = start;
  const target = await opened(start);
  const bytes = new Uint8Array(51_000_000);
  bytes.set([0x50, 0x4b, 3, 4]);
  const { fileId } = await caller.upload('one.xlsx', bytes);
  const sourceFileIds = Array.from({ length: 5 }, () => fileId);
  expect(await caller.ask('project.save', { ...question(target), sourceFileIds })).toMatchObject({
    ok: false,
    reason: { code: 'too-large', what: expect.stringMatching(/^Not saved\. .* 256 MB/) },
  });
  expect(nameOnDisk()).toBe('Larkspur Footbridge');
});

test('the demo can be what is opened at start', async () => {
  bench = makeBench({ startWithDemo: true });
  const caller = directCaller(bench);
  const start = await caller.ask('app.start', {});
  if (!start.ok) throw new Error(start.reason.what);
  expect(start.value.launchFile?.name).toBe('foxglove-roundhouse.xlsx');
});

test('what the host holds has a cap, with a reason', async () => {
  bench = makeBench();
  const store = new FileStore(100);
  const first = store.put('a', new Uint8Array(80));
  expect(store.put('b', new Uint8Array(30))).toMatchObject({
    ok: false,
    reason: { code: 'store-full' },
  });
  store.release(first.ok ? first.file.fileId : '');
  expect(store.put('b', new Uint8Array(30)).ok).toBe(true);
  const outputs = [1, 2, 3, 4, 5].map((n) => store.putOutput(`${n}`, new Uint8Array(n)).outputId);
  expect(outputs.map((id) => store.getOutput(id)?.name ?? null)).toEqual([
    null,
    '2',
    '3',
    '4',
    '5',
  ]);
});

test('a file named on the command line that cannot be opened: one clear message', async () => {
  bench = makeBench();
  for (const [written, words] of [
    ['missing.csv', /^missing\.csv: there is no such file/],
    ['.', /^\.: is a folder/],
    ['larkspur.runledger/x', /there is no such file/],
  ] as const) {
    const named = await findNamedFile(bench.parts.disk, written, folder);
    expect(named.ok ? '' : named.message).toMatch(words);
  }
  expect((await findNamedFile(bench.parts.disk, 'larkspur.runledger', folder)).ok).toBe(true);
  if (process.getuid?.() !== 0 && process.platform !== 'win32') {
    chmodSync(path, 0o000);
    const named = await findNamedFile(bench.parts.disk, 'larkspur.runledger', folder);
    expect(named.ok ? '' : named.message).toMatch(/may not be read/);
  }
});
