/** The window and what is round it: title, menu, dialogs, print, files that come, closing. */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { builtPages } from '../../src-main/page/page-source.ts';
import { SILENT_MS } from '../../src-main/shell/leave-flow.ts';
import { windowCommands } from '../../src-shared/contract/window-commands.ts';
import { makeParts } from '../contract/hosts.ts';
import { sampleFile, sampleText } from '../projects/sample-file.ts';
import {
  anEvent,
  app,
  BrowserWindow,
  callsOf,
  dialogAnswers,
  menuItems,
  type StubMenuItem,
} from './electron-stub.ts';
import { openShell, type Shell } from './open-shell.ts';

vi.mock('electron', () => import('./electron-stub.ts'));

let shell: Shell;
beforeEach(async () => {
  shell = await openShell();
});
afterEach(() => {
  vi.useRealTimers();
  shell.remove();
});

const item = (label: string): StubMenuItem => {
  const found = menuItems().find((entry) => entry.label === label);
  if (found === undefined) throw new Error(`no entry ${label}`);
  return found;
};
const saveQuestion = (target: string | null) => ({
  projectText: sampleText,
  sourceFileIds: [],
  target,
  overwrite: false,
  suggestedName: 'Larkspur',
});
async function until(look: () => boolean): Promise<void> {
  for (let wait = 0; !look(); wait += 5) {
    if (wait > 5_000) throw new Error('waited in vain');
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
}

test('title and unsaved mark are those the window tells', async () => {
  const told = { title: '• unsaved: Larkspur – Runledger', unsaved: true, commands: [] };
  await shell.ask('app.told', told);
  const mac = process.platform === 'darwin';
  expect([shell.window().title, shell.window().edited]).toEqual([told.title, mac]);
  const own = anEvent({});
  shell.window().emit('page-title-updated', own);
  expect(own.prevented()).toBe(true);
});

describe('the menu', () => {
  const commandEntries = () => menuItems().filter(({ click }) => click !== undefined);

  test('has every command of the window once, and each asks the window for it', async () => {
    await shell.ask('app.told', { title: 'x', unsaved: false, commands: [...windowCommands] });
    const entries = commandEntries();
    for (const entry of entries) entry.click?.();
    const asked = shell.events().map((event) => (event.kind === 'command' ? event.command : event));
    expect([...asked].sort()).toEqual([...windowCommands].sort());
    expect(entries.every(({ enabled }) => enabled)).toBe(true);
  });

  test('offers only what can be done now', async () => {
    expect(commandEntries().every(({ enabled }) => !enabled)).toBe(true);
    await shell.ask('app.told', { title: 'x', unsaved: false, commands: ['open', 'undo'] });
    const offered = commandEntries().filter(({ enabled }) => enabled);
    expect(offered.map(({ label }) => label).sort()).toEqual(['Open…', 'Undo']);
  });

  test('accelerators differ, and clipboard, zoom and window are the system’s own', () => {
    const keys = menuItems().flatMap(({ accelerator }) => accelerator ?? []);
    expect(new Set(keys).size).toBe(keys.length);
    expect(keys).toEqual(
      expect.arrayContaining(['CmdOrCtrl+N', 'CmdOrCtrl+O', 'CmdOrCtrl+S', 'CmdOrCtrl+P']),
    );
    const roles = menuItems().flatMap(({ role }) => role ?? []);
    for (const role of ['cut', 'copy', 'paste', 'selectAll', 'zoomIn', 'zoomOut', 'minimize']) {
      expect(roles).toContain(role);
    }
    expect(roles).not.toContain('reload');
    expect(roles).not.toContain('toggleDevTools');
  });
});

describe('dialogs', () => {
  test('open: the file chosen is taken in under an id; a folder is refused', async () => {
    const path = join(shell.folder, 'larkspur.runledger');
    writeFileSync(path, sampleFile());
    dialogAnswers.open.push({ canceled: false, filePaths: [path] });
    const chosen = await shell.ask('file.choose', { what: 'any' });
    expect(chosen).toEqual({
      ok: true,
      value: { fileId: expect.any(String), name: 'larkspur.runledger' },
    });
    expect(JSON.stringify(callsOf('showOpenDialog')[0]?.args)).toContain('"runledger"');
    dialogAnswers.open.push({ canceled: false, filePaths: [shell.folder] });
    expect(await shell.ask('file.choose', { what: 'schedule' })).toMatchObject({
      reason: { code: 'a-folder' },
    });
    expect(JSON.stringify(callsOf('showOpenDialog')[1]?.args)).not.toContain('"runledger"');
  });

  test('save as: written where the user says, in place from then on, and among the recent ones', async () => {
    const path = join(shell.folder, 'Larkspur C.runledger');
    dialogAnswers.save.push({ canceled: false, filePath: path });
    const saved = await shell.ask('project.save', saveQuestion(null));
    if (!saved.ok || saved.value.saved !== 'file') throw new Error(JSON.stringify(saved));
    expect(new Uint8Array(readFileSync(path))).toEqual(sampleFile([]));
    expect(saved.value.file.name).toBe('Larkspur C.runledger');
    const again = await shell.ask('project.save', saveQuestion(saved.value.file.fileId));
    expect(again).toEqual({ ok: true, value: { saved: 'in-place' } });
    expect(callsOf('showSaveDialog')).toHaveLength(1);
    await until(() => menuItems().some(({ label }) => label === 'Larkspur C.runledger'));
    expect(item('Larkspur C.runledger').enabled).toBe(true);
    expect(callsOf('app.addRecentDocument').at(-1)?.args).toEqual([path]);
    // The next dialog begins beside what was opened or saved last.
    await shell.ask('project.save', saveQuestion(null));
    expect(callsOf('showSaveDialog').at(-1)?.args).toMatchObject([
      { defaultPath: join(shell.folder, 'Larkspur.runledger') },
    ]);
    // Another program writes: not overwritten before the user was asked.
    writeFileSync(path, 'theirs');
    const target = saved.value.file.fileId;
    expect(await shell.ask('project.save', saveQuestion(target))).toMatchObject({
      reason: { code: 'changed-on-disk' },
    });
    const mine = { ...saveQuestion(target), overwrite: true };
    expect(await shell.ask('project.save', mine)).toMatchObject({ ok: true });
    expect(new Uint8Array(readFileSync(path))).toEqual(sampleFile([]));
  });

  test('a closed dialog saves nothing and is no fault', async () => {
    expect(await shell.ask('project.save', saveQuestion(null))).toEqual({
      ok: true,
      value: { saved: 'not' },
    });
    const question = {
      projectText: sampleText,
      sourceFileIds: [],
      into: null,
      suggestedName: 'x',
    };
    expect(await shell.ask('workbook.export', question)).toEqual({
      ok: true,
      value: { saved: 'not', remarks: [] },
    });
  });

  test('a name without extension gets it, and a file it would hit is asked about', async () => {
    const there = join(shell.folder, 'there.runledger');
    writeFileSync(there, 'theirs');
    dialogAnswers.save.push({ canceled: false, filePath: join(shell.folder, 'there') });
    dialogAnswers.save.push({ canceled: true, filePath: '' });
    const first = await shell.ask('project.save', saveQuestion(null));
    expect(first).toMatchObject({ value: { saved: 'not' } });
    expect(readFileSync(there, 'utf8')).toBe('theirs');
    expect(callsOf('showSaveDialog')[1]?.args).toMatchObject([{ defaultPath: there }]);
    dialogAnswers.save.push({ canceled: false, filePath: join(shell.folder, 'fresh') });
    await shell.ask('project.save', saveQuestion(null));
    expect(existsSync(join(shell.folder, 'fresh.runledger'))).toBe(true);
  });

  test('print: by the system’s dialog; closed is no fault, a printer that fails is', async () => {
    const printed = async (success: boolean, why: string) => {
      const answer = shell.ask('app.print', {});
      await until(() => shell.window().webContents.printed !== null);
      shell.window().webContents.printed?.(success, why);
      shell.window().webContents.printed = null;
      return answer;
    };
    expect(await printed(true, '')).toEqual({ ok: true, value: {} });
    expect(await printed(false, 'Print job canceled')).toEqual({ ok: true, value: {} });
    expect(await printed(false, 'no printer')).toMatchObject({ reason: { code: 'not-printed' } });
    expect(callsOf('webContents.print')[0]?.args).toEqual([
      { silent: false, printBackground: true },
    ]);
  });
});

describe('files that come from outside', () => {
  const csv = () => {
    const path = join(shell.folder, 'schedule.csv');
    writeFileSync(path, 'Tag,Load\nA-01,87\n');
    return path;
  };

  test('the command line: opened at start; a missing one ends with one message and exit 2', async () => {
    const path = csv();
    const folder = shell.folder;
    shell = await openShell(['schedule.csv'], { stateFolder: folder });
    expect(await shell.ask('app.start', {})).toMatchObject({
      value: { launchFile: { name: 'schedule.csv' } },
    });
    expect(callsOf('app.requestSingleInstanceLock')[0]?.args).toEqual([{ file: path }]);
    const failed = await openShell(['missing.csv'], { stateFolder: folder });
    expect(failed.said).toEqual([expect.stringMatching(/^missing\.csv: there is no such file/)]);
    expect(callsOf('app.exit')[0]?.args).toEqual([2]);
    expect(BrowserWindow.all).toEqual([]);
  });

  test('a word that is wrong ends with one message; --help shows the words', async () => {
    const wrong = await openShell(['--nope'], { stateFolder: shell.folder });
    expect(wrong.said).toEqual([expect.stringMatching(/^--nope: no such option/)]);
    expect(callsOf('app.exit')[0]?.args).toEqual([2]);
    const out = vi.spyOn(process.stdout, 'write').mockReturnValue(true);
    await openShell(['--help'], { stateFolder: shell.folder });
    expect(String(out.mock.calls[0]?.[0])).toMatch(/npm start/);
    out.mockRestore();
    expect(callsOf('app.exit')[0]?.args).toEqual([0]);
  });

  test('a second start hands its file over and ends; the first opens it', async () => {
    const path = csv();
    await shell.ask('app.start', {});
    app.hasLock = false;
    const second = await openShell(['schedule.csv'], { stateFolder: shell.folder, beside: true });
    expect(second.said).toEqual(['Runledger is open already; it was given the file.']);
    expect(callsOf('app.exit')[0]?.args).toEqual([0]);
    expect(BrowserWindow.all).toHaveLength(1);
    const handed = callsOf('app.requestSingleInstanceLock').at(-1)?.args[0];
    app.emit('second-instance', {}, [], '', handed);
    await until(() => shell.events().length > 0);
    expect(shell.events()).toEqual([
      { kind: 'open', file: { fileId: expect.any(String), name: 'schedule.csv' } },
    ]);
    expect(JSON.stringify(shell.events())).not.toContain(path);
    expect(callsOf('focus').length).toBeGreaterThan(0);
    // Without a file, or with something else, the window only comes forward.
    for (const data of [{ file: null }, { file: 7 }, 'x', null]) {
      app.emit('second-instance', {}, [], '', data);
    }
    expect(shell.events()).toHaveLength(1);
  });

  test('by the system (open-file): opened; one that cannot be is told of, not swallowed', async () => {
    await shell.ask('app.start', {});
    const event = anEvent({});
    app.emit('open-file', event, csv());
    expect(event.prevented()).toBe(true);
    await until(() => shell.events().length > 0);
    app.emit('open-file', anEvent({}), join(shell.folder, 'gone.csv'));
    await until(() => shell.events().length > 1);
    expect(shell.events()).toMatchObject([
      { kind: 'open', file: { name: 'schedule.csv' } },
      { kind: 'refused', reason: { code: 'file-gone' } },
    ]);
  });

  test('one that comes while the one before it is looked at is not left behind', async () => {
    const parts = makeParts(shell.folder, []);
    const admit = parts.disk.admit.bind(parts.disk);
    const [first, second] = [csv(), join(shell.folder, 'second.csv')];
    writeFileSync(second, 'Tag,Load\nA-01,87\n');
    parts.disk.admit = async (path, written) => {
      if (path === first) app.emit('open-file', anEvent({}), second);
      return admit(path, written);
    };
    const pages = async () => {
      app.emit('open-file', anEvent({}), first);
      return builtPages({ page: '', files: new Map() });
    };
    shell = await openShell([], { stateFolder: shell.folder, parts, pages });
    expect(await shell.ask('app.start', {})).toMatchObject({
      value: { launchFile: { name: 'second.csv' } },
    });
  });

  test('a recent file, from the menu', async () => {
    csv();
    dialogAnswers.open.push({ canceled: false, filePaths: [join(shell.folder, 'schedule.csv')] });
    const chosen = await shell.ask('file.choose', { what: 'any' });
    const fileId = chosen.ok && chosen.value !== null ? chosen.value.fileId : '';
    await shell.ask('file.open', { fileId });
    await until(() => menuItems().some(({ label }) => label === 'schedule.csv'));
    item('schedule.csv').click?.();
    expect(shell.events()).toEqual([{ kind: 'open', file: { fileId, name: 'schedule.csv' } }]);
  });
});

describe('closing', () => {
  const questions = () => callsOf('showMessageBox').map(({ args }) => args[0]);

  test('the window is asked; it closes when the window says so', async () => {
    expect(shell.window().cross()).toBe(false);
    expect(shell.events()).toEqual([{ kind: 'may-leave' }]);
    await shell.ask('app.leave', { answer: 'asking' });
    await shell.ask('app.leave', { answer: 'stay' });
    expect(shell.window().destroyed).toBe(false);
    expect(shell.window().cross()).toBe(false);
    await shell.ask('app.leave', { answer: 'asking' });
    await shell.ask('app.leave', { answer: 'leave' });
    expect(shell.window().destroyed).toBe(true);
    expect(questions()).toEqual([]);
    app.emit('window-all-closed');
    expect(callsOf('app.quit')).toHaveLength(1);
  });

  test('an answer nobody asked for does nothing', async () => {
    await shell.ask('app.leave', { answer: 'leave' });
    expect(shell.window().destroyed).toBe(false);
  });

  test('the question of the window may stand as long as the user likes', async () => {
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
    shell.window().cross();
    await shell.ask('app.leave', { answer: 'asking' });
    await vi.advanceTimersByTimeAsync(10 * 60 * 1000);
    expect(questions()).toEqual([]);
  });

  test('a window that does not answer is spoken for by a native question', async () => {
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
    dialogAnswers.message.push(1, 0);
    shell.window().cross();
    await vi.advanceTimersByTimeAsync(SILENT_MS - 1);
    expect(questions()).toEqual([]);
    await vi.advanceTimersByTimeAsync(1);
    expect(questions()).toMatchObject([{ message: expect.stringMatching(/does not answer/) }]);
    expect(shell.window().destroyed).toBe(false);
    shell.window().cross();
    await vi.advanceTimersByTimeAsync(SILENT_MS);
    expect(shell.window().destroyed).toBe(true);
  });

  test('one whose page has ended: told, loaded again or left', async () => {
    const gone = (reason: string) =>
      shell.window().webContents.emit('render-process-gone', {}, { reason });
    gone('crashed');
    await until(() => callsOf('webContents.reload').length === 1);
    expect(questions()).toMatchObject([{ message: expect.stringMatching(/ended unexpectedly/) }]);
    shell.window().webContents.emit('did-finish-load');
    dialogAnswers.message.push(0);
    gone('oom');
    await until(() => questions().length === 2);
    expect(callsOf('webContents.reload')).toHaveLength(1);
    dialogAnswers.message.push(0);
    expect(shell.window().cross()).toBe(false);
    await until(() => shell.window().destroyed);
    expect(questions()).toHaveLength(3);
  });

  test('a page that ends while it is asked', async () => {
    shell.window().cross();
    await shell.ask('app.leave', { answer: 'asking' });
    dialogAnswers.message.push(0);
    shell.window().webContents.emit('render-process-gone', {}, { reason: 'killed' });
    await until(() => shell.window().destroyed);
    expect(questions()).toHaveLength(1);
  });

  test('a page that ends while it is asked, and the user stays: it is loaded again', async () => {
    shell.window().cross();
    dialogAnswers.message.push(1);
    shell.window().webContents.emit('render-process-gone', {}, { reason: 'killed' });
    await until(() => callsOf('webContents.reload').length === 1);
    expect(shell.window().destroyed).toBe(false);
  });
});

test('where the window stood is kept, and a damaged file of it begins anew', async () => {
  const path = join(shell.folder, 'window.json');
  const window = shell.window();
  window.bounds = { x: 2000, y: 40, width: 1000, height: 700 };
  window.maximised = true;
  window.emit('move');
  await until(() => existsSync(path));
  const { folder } = shell;
  shell = await openShell([], { stateFolder: folder });
  expect(shell.window().options).toMatchObject({ x: 2000, y: 40, width: 1000, height: 700 });
  expect(shell.window().maximised).toBe(true);
  writeFileSync(path, '{"format":');
  shell = await openShell([], { stateFolder: folder });
  expect(shell.window().options).toMatchObject({ x: 280, y: 90, width: 1360, height: 860 });
  expect(shell.said).toEqual([expect.stringMatching(/damaged.*set aside/)]);
});
