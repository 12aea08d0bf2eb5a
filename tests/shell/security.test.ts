/**
 * The shell's set-up against a recording stub: each point of Electron's own security checklist
 * (Electron documentation, "Security", 20 recommendations) that holds for an app with one local page.
 */
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { ASK_CHANNEL, HOLD_CHANNEL } from '../../src-main/shell/channels.ts';
import { isOwnAddress, mayLoad, mayOpenOutside } from '../../src-main/shell/own-address.ts';
import {
  anEvent,
  app,
  BrowserWindow,
  calls,
  callsOf,
  invoke,
  ipcChannels,
  ownSender,
  session,
} from './electron-stub.ts';
import { openShell, type Shell } from './open-shell.ts';

vi.mock('electron', () => import('./electron-stub.ts'));

let shell: Shell;
beforeAll(async () => {
  shell = await openShell();
});
afterAll(() => shell.remove());

const own = () => session.fromPartition('runledger');
/** A handler the shell has given a session, called as Electron would. */
function asked(name: string, of = own()): (...args: unknown[]) => unknown {
  const handler = of.handlers.get(name);
  if (handler === undefined) throw new Error(`no ${name}`);
  return handler as (...args: unknown[]) => unknown;
}

test('the window is sandboxed and isolated, without Node and without webview', () => {
  expect(BrowserWindow.all).toHaveLength(1);
  expect(shell.window().options.webPreferences).toEqual({
    preload: expect.stringMatching(/preload\.cjs$/),
    partition: 'runledger',
    sandbox: true,
    contextIsolation: true,
    nodeIntegration: false,
    nodeIntegrationInWorker: false,
    nodeIntegrationInSubFrames: false,
    webviewTag: false,
    webSecurity: true,
    allowRunningInsecureContent: false,
    experimentalFeatures: false,
    navigateOnDragDrop: false,
    spellcheck: false,
    devTools: false,
  });
});

test('what must come before Electron is ready comes before', () => {
  const order = calls.map(({ what }) => what);
  const ready = order.indexOf('app.whenReady');
  for (const what of [
    'app.enableSandbox',
    'protocol.registerSchemesAsPrivileged',
    'app.setPath',
    'app.requestSingleInstanceLock',
    'appendSwitch',
  ]) {
    expect(order.indexOf(what), what).toBeGreaterThanOrEqual(0);
    expect(order.indexOf(what), what).toBeLessThan(ready);
  }
  expect(callsOf('protocol.registerSchemesAsPrivileged')[0]?.args).toEqual([
    [
      {
        scheme: 'runledger',
        privileges: { standard: true, secure: true, supportFetchAPI: true, corsEnabled: true },
      },
    ],
  ]);
  expect(app.paths.get('userData')).toMatch(/shell$/);
  expect(callsOf('appendSwitch').map(({ args }) => args)).toContainEqual([
    'host-resolver-rules',
    'MAP * ~NOTFOUND',
  ]);
});

test('the page comes by our own protocol, never from a file or a server', () => {
  expect(callsOf('loadURL').map(({ args }) => args)).toEqual([['runledger://window/']]);
  expect(callsOf('protocol.handle').map(({ args }) => args)).toEqual([['runledger', 'runledger']]);
});

describe('the protocol', () => {
  const get = async (url: string, method = 'GET') =>
    (await asked('protocol runledger')(new Request(url, { method }))) as Response;

  test('answers the page with a policy that has no inline, no eval, and another nonce each time', async () => {
    const [first, second] = [await get('runledger://window/'), await get('runledger://window/')];
    const policy = first.headers.get('content-security-policy') ?? '';
    expect(first.status).toBe(200);
    expect(policy).toMatch(/default-src 'self'/);
    expect(policy).toMatch(/script-src 'self'(;|$)/);
    expect(policy).toMatch(/object-src 'none'/);
    expect(policy).toMatch(/frame-ancestors 'none'/);
    expect(policy).toMatch(/base-uri 'none'/);
    expect(policy).not.toMatch(/unsafe-|\*|https?:|ws:/);
    const nonce = /'nonce-([^']+)'/.exec(policy)?.[1] ?? '';
    expect(nonce.length).toBeGreaterThanOrEqual(43);
    expect(await first.text()).toContain(`<style nonce="${nonce}">`);
    expect(second.headers.get('content-security-policy')).not.toBe(policy);
    for (const [name, value] of [
      ['x-content-type-options', 'nosniff'],
      ['cache-control', 'no-store'],
      ['referrer-policy', 'no-referrer'],
      ['content-type', 'text/html; charset=utf-8'],
    ] as const) {
      expect(first.headers.get(name)).toBe(value);
    }
  });

  test('gives files of the fixed map with their kind, and nothing else', async () => {
    const file = await get('runledger://window/assets/window.js');
    expect([file.status, await file.text()]).toEqual([200, 'let x;']);
    expect(file.headers.get('content-type')).toBe('text/javascript; charset=utf-8');
    expect(file.headers.get('x-content-type-options')).toBe('nosniff');
    for (const url of [
      'runledger://window/assets/other.js',
      'runledger://window/../assets/window.js/..',
      'runledger://window/%2e%2e/%2e%2e/etc/passwd',
      'runledger://window/index.html?x',
      'runledger://window/?x=1',
      'runledger://elsewhere/',
      'runledger://window:80/',
    ]) {
      const got = await get(url);
      expect([url, got.status, await got.text()]).toEqual([url, 404, '']);
      expect(got.headers.get('content-security-policy')).toMatch(/default-src 'none'/);
    }
    expect((await get('runledger://window/', 'POST')).status).toBe(405);
    expect(isOwnAddress('runledger://user@window/')).toBe(false);
  });
});

describe('every session', () => {
  test.each(['', 'runledger'])('"%s" grants nothing', (name) => {
    const of = name === '' ? session.defaultSession : own();
    for (const permission of ['media', 'geolocation', 'notifications', 'openExternal', 'usb']) {
      let granted: unknown = 'no answer';
      asked('setPermissionRequestHandler', of)({}, permission, (answer: unknown) => {
        granted = answer;
      });
      expect(granted).toBe(false);
      expect(asked('setPermissionCheckHandler', of)({}, permission)).toBe(false);
    }
    expect(asked('setDevicePermissionHandler', of)({ deviceType: 'hid' })).toBe(false);
    const answers: unknown[] = [];
    const take = (answer: unknown) => answers.push(answer);
    asked('setDisplayMediaRequestHandler', of)({}, take);
    asked('setBluetoothPairingHandler', of)({}, take);
    // Null denies (Electron documentation, setDisplayMediaRequestHandler).
    expect(answers).toEqual([null, { confirmed: false }]);
    const chosen: unknown[] = [];
    const devices = [
      ['select-hid-device', 2],
      ['select-usb-device', 2],
      ['select-serial-port', 3],
    ] as const;
    for (const [event, place] of devices) {
      const sent = anEvent({});
      const args: unknown[] = [sent, {}, {}, {}].slice(0, place);
      of.emit(event, ...args, (device?: string) => chosen.push(device ?? ''));
      expect(sent.prevented()).toBe(true);
    }
    expect(chosen).toEqual(['', '', '']);
    const download = anEvent({});
    of.emit('will-download', download);
    expect(download.prevented()).toBe(true);
  });

  test.each(['', 'runledger'])('"%s" fetches nothing but its own page', (name) => {
    const of = name === '' ? session.defaultSession : own();
    const cancelled = (url: string) => {
      let answer: { cancel?: boolean } = {};
      asked('onBeforeRequest', of)({ url }, (given: { cancel: boolean }) => {
        answer = given;
      });
      return answer.cancel;
    };
    expect(cancelled('runledger://window/assets/window.js')).toBe(false);
    for (const url of [
      'https://example.org/',
      'http://127.0.0.1:5173/',
      'ws://127.0.0.1:5173/',
      'file:///etc/passwd',
      'ftp://example.org/',
      'runledger://elsewhere/',
      'chrome-extension://x/',
      'not an address',
    ]) {
      expect([url, cancelled(url)]).toEqual([url, true]);
    }
  });

  test('under development, and only then, the socket of the build tool is let through', () => {
    const socket = 'ws://127.0.0.1:5173/?token=x';
    expect(mayLoad(socket, ['ws://127.0.0.1:5173'])).toBe(true);
    expect(mayLoad(socket)).toBe(false);
    expect(mayLoad('devtools://devtools/x.js', ['ws://127.0.0.1:5173'])).toBe(true);
    expect(mayLoad('devtools://devtools/x.js')).toBe(false);
    expect(mayLoad('ws://127.0.0.1:5174/', ['ws://127.0.0.1:5173'])).toBe(false);
  });
});

describe('every page', () => {
  const contents = () => shell.window().webContents;

  test('goes nowhere', () => {
    const went = (name: string, url: string, more: object = {}) => {
      const event = anEvent({ url, ...more });
      contents().emit(name, event);
      return !event.prevented();
    };
    for (const url of ['https://example.org/', 'file:///etc/passwd', 'runledger://window/x']) {
      expect(went('will-navigate', url)).toBe(false);
      expect(went('will-frame-navigate', url, { isMainFrame: true })).toBe(false);
      expect(went('will-redirect', url)).toBe(false);
    }
    expect(went('will-frame-navigate', 'runledger://window/', { isMainFrame: false })).toBe(false);
    expect(went('will-navigate', 'runledger://window/')).toBe(true);
    expect(went('will-attach-webview', '')).toBe(false);
    const bluetooth = anEvent({});
    let device: unknown = null;
    contents().emit('select-bluetooth-device', bluetooth, [], (id: string) => {
      device = id;
    });
    expect([bluetooth.prevented(), device]).toEqual([true, '']);
  });

  test('opens nothing, inside or outside', () => {
    for (const url of ['https://example.org/', 'http://example.org/', 'file:///x', 'mailto:a@b']) {
      expect(contents().openHandler?.({ url })).toEqual({ action: 'deny' });
    }
    expect(callsOf('openExternal')).toEqual([]);
  });

  test('an address outside must be https and stand in the list to the letter', () => {
    const list = ['https://example.org/help', 'http://example.org/'];
    expect(mayOpenOutside('https://example.org/help', list)).toBe(true);
    expect(mayOpenOutside('https://example.org/help?x', list)).toBe(false);
    expect(mayOpenOutside('https://example.org.evil.test/help', list)).toBe(false);
    expect(mayOpenOutside('http://example.org/', list)).toBe(false);
    expect(mayOpenOutside('https://example.org/help')).toBe(false);
  });
});

describe('the border', () => {
  test('has two channels and no more', () => {
    expect(ipcChannels().sort()).toEqual([ASK_CHANNEL, HOLD_CHANNEL].sort());
  });

  test('hears the page of its window in the main frame, and nobody else', async () => {
    const ours = ownSender();
    const frame = { url: 'runledger://window/', parent: null };
    const foreign = [
      { ...ours, senderFrame: null },
      { ...ours, senderFrame: { ...frame, parent: {} } },
      { ...ours, senderFrame: { ...frame, url: 'https://example.org/' } },
      { ...ours, senderFrame: { ...frame, url: 'runledger://window.evil.test/' } },
      { ...ours, senderFrame: { ...frame, url: 'runledger://elsewhere/' } },
      { ...ours, senderFrame: { ...frame, url: 'file:///etc/passwd' } },
      { ...ours, senderFrame: { ...frame, url: 'about:blank' } },
      { ...ours, sender: { id: ours.sender.id + 1 } },
    ];
    for (const event of foreign) {
      for (const [channel, args] of [
        [ASK_CHANNEL, ['app.start', {}]],
        [HOLD_CHANNEL, [{ path: '/etc/passwd' }]],
      ] as const) {
        expect(await invoke(channel, args, event)).toMatchObject({
          ok: false,
          reason: { code: 'foreign-sender' },
        });
      }
    }
    expect(await invoke(ASK_CHANNEL, ['app.start', {}], ours)).toMatchObject({ ok: true });
  });

  test('refuses what it does not know and what is not of its form', async () => {
    for (const [args, code] of [
      [['no.such.request', {}], 'unknown-request'],
      [['__proto__', {}], 'unknown-request'],
      [[7, {}], 'unknown-request'],
      [['file.open', { fileId: '../../etc/passwd' }], 'bad-request'],
      [['file.open', { path: '/etc/passwd' }], 'bad-request'],
      [['app.leave', { answer: 'now' }], 'bad-request'],
      [['app.told', { title: 'x', unsaved: false, commands: ['format-disk'] }], 'bad-request'],
      [['memory.keep', { key: '../x', text: 'y' }], 'bad-request'],
    ] as const) {
      expect(await invoke(ASK_CHANNEL, args)).toMatchObject({ ok: false, reason: { code } });
    }
    for (const asked of [
      null,
      'x',
      { path: '' },
      { path: 7 },
      { path: '/a', bytes: new Uint8Array(1) },
      { name: 'a.csv', bytes: [1, 2] },
      { name: 'a.csv', bytes: new Uint8Array(60_000_001) },
    ]) {
      expect(await invoke(HOLD_CHANNEL, [asked])).toMatchObject({
        ok: false,
        reason: { code: 'bad-request' },
      });
    }
    await expect(invoke('runledger:other', [])).rejects.toThrow(/No handler/);
  });
});

test('development opens the tools and takes no lock; everything else stays shut', async () => {
  const before = new Set(process.listeners('SIGTERM'));
  const other = await openShell([], { developing: true });
  expect(other.window().options.webPreferences).toMatchObject({
    sandbox: true,
    contextIsolation: true,
    nodeIntegration: false,
    devTools: true,
  });
  expect(callsOf('app.requestSingleInstanceLock')).toEqual([]);
  expect(callsOf('appendSwitch').map(({ args }) => args)).toContainEqual([
    'host-resolver-rules',
    'MAP * ~NOTFOUND, EXCLUDE 127.0.0.1',
  ]);
  for (const listener of process.listeners('SIGTERM')) {
    if (!before.has(listener)) process.off('SIGTERM', listener);
  }
  other.remove();
});
