import { spawn } from 'node:child_process';
import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeEach, describe, expect, test } from 'vitest';
import { processMark } from '../../src-main/projects/process-mark.ts';
import { createRecoveryStore, type RecoveryStore } from '../../src-main/projects/recovery-store.ts';
import { stateFolder } from '../../src-main/projects/state-folder.ts';
import { unpackProject } from '../../src-main/projects/unpack-project.ts';
import { faultyFs, SystemFault } from './faulty-fs.ts';
import { sampleSource, sampleText } from './sample-file.ts';

const top = mkdtempSync(join(tmpdir(), 'runledger-recovery-'));
afterAll(() => rmSync(top, { recursive: true, force: true }));

const content = { name: 'Larkspur', projectText: sampleText, sources: [sampleSource] };
let folder = '';
const open = (): RecoveryStore => createRecoveryStore({ folder, appVersion: '0.1.0' });
beforeEach(() => {
  folder = join(mkdtempSync(join(top, 'case-')), 'state', 'recovery');
});

async function keep(store: RecoveryStore, recoveryId: string | null, name = 'Larkspur') {
  const kept = await store.keep(recoveryId, { ...content, name });
  if (!kept.ok) throw new Error(kept.reason.what);
  return kept.recoveryId;
}

/** As if the process that kept the copies had ended. */
function orphan(mark = 'ffffffff', pid = 4_194_305) {
  for (const name of readdirSync(folder)) {
    const later = name.replace(/~\d+-[0-9a-f]{8}/, `~${pid}-${mark}`);
    renameSync(join(folder, name), join(folder, later));
  }
}

test('nothing kept, nothing offered, nothing made', async () => {
  expect(await open().list()).toEqual([]);
});

test('a copy is a whole project, kept under one id, offered with name and time', async () => {
  const store = open();
  const id = await keep(store, null);
  expect(id).toMatch(/^[A-Za-z0-9_-]{8,64}$/);
  expect(await keep(store, id, 'Larkspur rev B')).toBe(id);
  const [offer, ...more] = await open().list();
  expect(more).toEqual([]);
  expect(offer).toMatchObject({ recoveryId: id, name: 'Larkspur rev B' });
  expect(Math.abs(Date.now() - Date.parse(offer?.keptAt ?? ''))).toBeLessThan(60_000);
  const copy = await store.read(id);
  const unpacked = unpackProject(copy?.bytes ?? new Uint8Array(), 'copy');
  expect(unpacked).toMatchObject({
    ok: true,
    projectText: sampleText,
    sources: [{ name: 'larkspur.xlsx' }],
  });
});

test('two pieces of work are two copies, newest first; dropping one leaves the other', async () => {
  const store = open();
  const first = await keep(store, null, 'one');
  await new Promise((resolve) => setTimeout(resolve, 15));
  const second = await keep(store, null, 'two');
  expect((await store.list()).map(({ name }) => name)).toEqual(['two', 'one']);
  await store.drop(second);
  await store.drop(second);
  expect((await store.list()).map(({ recoveryId }) => recoveryId)).toEqual([first]);
  expect(await store.read(second)).toBeNull();
});

test('an id dropped meanwhile, or never given out, gets a copy of a new id: work is never unprotected', async () => {
  const store = open();
  for (const id of ['unheard-of', '../../etc/passwd']) {
    const kept = await keep(store, id);
    expect(kept).not.toBe(id);
  }
  expect(readdirSync(folder)).toHaveLength(2);
  expect(await store.read('../../etc/passwd')).toBeNull();
});

test('copies of a program that still runs are not offered, those of one that is gone are', async () => {
  await keep(open(), null);
  orphan(processMark(process.ppid) ?? '', process.ppid);
  expect(await open().list()).toEqual([]);
  orphan('00000000', process.ppid);
  // The number was given to another process since.
  expect(await open().list()).toHaveLength(process.platform === 'linux' ? 1 : 0);
  orphan();
  expect(await open().list()).toHaveLength(1);
});

test('a copy taken over from a killed program belongs to the one that keeps it', async () => {
  const id = await keep(open(), null, 'before');
  orphan();
  const store = open();
  expect(await store.list()).toHaveLength(1);
  expect(await keep(store, id, 'after')).toBe(id);
  expect(readdirSync(folder)).toHaveLength(1);
  expect(readdirSync(folder)[0]).toContain(`~${process.pid}-`);
});

test('a damaged copy is offered as such and never removed', async () => {
  const id = await keep(open(), null);
  const [name = ''] = readdirSync(folder);
  writeFileSync(join(folder, name), 'rubbish');
  writeFileSync(join(folder, 'notes.txt'), 'not ours');
  const store = open();
  expect(await store.list()).toMatchObject([
    { recoveryId: id, name: 'Unsaved work (damaged copy)' },
  ]);
  expect(readdirSync(folder)).toHaveLength(2);
});

test('a fault while keeping is said, and the copy before stays', async () => {
  const id = await keep(open(), null);
  const { fs } = faultyFs((call) => {
    if (call === 'write') throw new SystemFault('ENOSPC');
  });
  const store = createRecoveryStore({ folder, appVersion: '0.1.0', fs });
  await store.list();
  const kept = await store.keep(id, { ...content, projectText: 'x' });
  expect(kept).toMatchObject({ ok: false, reason: { code: 'disk-full' } });
  const copy = await store.read(id);
  expect(unpackProject(copy?.bytes ?? new Uint8Array(), 'copy').ok).toBe(true);
});

test('a folder that cannot be made is a reason', async () => {
  mkdirSync(join(folder, '..'), { recursive: true });
  writeFileSync(folder, 'a file stands here');
  expect(await open().keep(null, content)).toMatchObject({
    ok: false,
    reason: { code: 'no-recovery', where: folder },
  });
});

describe.skipIf(process.platform === 'win32')('needs a POSIX system: permissions', () => {
  test('folder and copies are open to their owner only', async () => {
    await keep(open(), null);
    expect(statSync(folder).mode & 0o777).toBe(0o700);
    for (const name of readdirSync(folder)) {
      expect(statSync(join(folder, name)).mode & 0o777).toBe(0o600);
    }
  });
});

test('a process is told from a later one of the same number', async () => {
  const child = spawn(process.execPath, ['-e', 'setTimeout(() => {}, 60000)']);
  const { pid = 0 } = child;
  const mark = processMark(pid);
  expect(mark).toMatch(/^[0-9a-f]{8}$/);
  expect(processMark(pid)).toBe(mark);
  if (process.platform === 'linux') expect(processMark(process.pid)).not.toBe(mark);
  await new Promise((resolve) => {
    child.once('exit', resolve);
    child.kill('SIGKILL');
  });
  expect(processMark(pid)).toBeNull();
});

// XDG Base Directory Specification 0.8: $XDG_STATE_HOME, default $HOME/.local/state, relative
// values are to be ignored. Windows and macOS: common practice, no source.
test.each([
  ['linux', {}, '/home/ada/.local/state/runledger'],
  ['linux', { XDG_STATE_HOME: '/var/ada' }, '/var/ada/runledger'],
  ['linux', { XDG_STATE_HOME: 'var/ada' }, '/home/ada/.local/state/runledger'],
  ['linux', { RUNLEDGER_STATE_DIR: '/x/y', XDG_STATE_HOME: '/var/ada' }, '/x/y'],
  ['darwin', {}, '/home/ada/Library/Application Support/Runledger'],
  ['win32', { LOCALAPPDATA: '/c/local' }, '/c/local/Runledger'],
  ['win32', {}, '/home/ada/AppData/Local/Runledger'],
] as const)('on %s with %o the state folder is %s', (platform, env, expected) => {
  const surroundings = { platform, env, home: '/home/ada' };
  expect(stateFolder(surroundings)).toBe(join(expected));
});
