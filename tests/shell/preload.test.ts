/** What the preload script gives the page, and what it keeps. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { bridgeOf, connectDesktop } from '../../src-renderer/host/desktop-host.ts';
import type { HostEvent } from '../../src-shared/contract/host-events.ts';
import { exposed, ipcRenderer, pathsOfFiles } from './electron-stub.ts';
import { openShell, type Shell } from './open-shell.ts';

vi.mock('electron', () => import('./electron-stub.ts'));

let shell: Shell;
beforeAll(async () => {
  shell = await openShell();
  await import('../../src-main/electron/preload.ts');
});
afterAll(() => shell.remove());

const bridge = () => {
  const found = bridgeOf({ runledger: exposed.get('runledger') } as unknown as Window);
  if (found === null) throw new Error('no bridge');
  return found;
};

test('exactly three functions, and none of them is Electron itself', () => {
  expect([...exposed.keys()]).toEqual(['runledger']);
  expect(Object.keys(exposed.get('runledger') ?? {}).sort()).toEqual(['ask', 'hold', 'onEvent']);
});

test('a file on the disk becomes an opaque id; its path is told to nobody', async () => {
  const path = join(shell.folder, 'dropped.csv');
  writeFileSync(path, 'Tag,Load\nA-01,87\n');
  const file = new File(['anything'], 'dropped.csv');
  pathsOfFiles.set(file, path);
  const held = await connectDesktop(bridge()).hold(file);
  expect(held).toEqual({ ok: true, value: { fileId: expect.any(String), name: 'dropped.csv' } });
  expect(JSON.stringify(held)).not.toContain(shell.folder);
  const fileId = held.ok ? held.value.fileId : '';
  expect(await shell.ask('file.open', { fileId })).toMatchObject({
    ok: true,
    value: { kind: 'schedule' },
  });
});

test('a dropped folder, or a file that is gone, is refused by the one validator', async () => {
  for (const [path, code] of [
    [shell.folder, 'a-folder'],
    [join(shell.folder, 'gone.csv'), 'file-gone'],
  ] as const) {
    const file = new File([], 'x');
    pathsOfFiles.set(file, path);
    expect(await bridge().hold(file)).toMatchObject({ ok: false, reason: { code } });
  }
});

test('a file without a path goes as its bytes; too large a one does not go at all', async () => {
  const host = connectDesktop(bridge());
  const held = await host.hold(new File(['Tag,Load\nA-01,87\n'], 'made.csv'));
  const fileId = held.ok ? held.value.fileId : '';
  expect(await host.ask('file.open', { fileId })).toMatchObject({
    ok: true,
    value: { kind: 'schedule', file: { name: 'made.csv' } },
  });
  const huge = new File([], 'huge.csv');
  Object.defineProperty(huge, 'size', { value: 60_000_001 });
  expect(await host.hold(huge)).toMatchObject({ reason: { code: 'too-large' } });
});

test('events are heard until told to stop; one of another form is not', () => {
  const heard: HostEvent[] = [];
  const stop = connectDesktop(bridge()).onEvent((event) => heard.push(event));
  const send = (event: unknown) => ipcRenderer.arrive('runledger:event', event);
  send({ kind: 'command', command: 'save' });
  send({ kind: 'command', command: 'format-disk' });
  send({ kind: 'open', file: { fileId: 'a', name: 'b' } });
  send({ kind: 'refused', reason: { code: 'c', what: 'w', where: 'x', todo: 't' } });
  send('may-leave');
  send({ kind: 'may-leave' });
  stop();
  send({ kind: 'may-leave' });
  expect(heard.map(({ kind }) => kind)).toEqual(['command', 'open', 'refused', 'may-leave']);
});

test('a shell that is gone is a reason, never an exception', async () => {
  const host = connectDesktop({
    ask: () => Promise.reject(new Error('gone')),
    hold: () => Promise.resolve(undefined),
    onEvent: () => () => undefined,
  });
  expect(await host.ask('app.start', {})).toMatchObject({ reason: { code: 'no-host' } });
  expect(await host.hold(new File([], 'x'))).toMatchObject({ reason: { code: 'no-host' } });
});
