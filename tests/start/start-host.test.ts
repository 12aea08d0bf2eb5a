/** `npm start` as it is run: a process of its own, from its words to its end. */
import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, afterEach, describe, expect, test } from 'vitest';
import { send } from '../contract/http-client.ts';
import { findProgram } from '../house/need.ts';
import { sampleFile } from '../projects/sample-file.ts';

const script = fileURLToPath(new URL('../../src-main/start/start.mjs', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'runledger-start-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const portFile = join(folder, 'port.json');
const running: ChildProcess[] = [];
afterEach(() => {
  for (const child of running.splice(0)) child.kill('SIGKILL');
  rmSync(portFile, { force: true });
});

interface Run {
  readonly child: ChildProcess;
  readonly said: () => string;
  readonly out: () => string;
  readonly ended: Promise<number | null>;
}

function run(
  words: readonly string[],
  env: Record<string, string> = {},
  program = process.execPath,
): Run {
  const { DISPLAY: _d, WAYLAND_DISPLAY: _w, ...rest } = process.env;
  const child = spawn(program, program === process.execPath ? [script, ...words] : words, {
    env: { ...rest, INIT_CWD: folder, RUNLEDGER_STATE_DIR: join(folder, 'state'), ...env },
  });
  running.push(child);
  let said = '';
  let out = '';
  child.stderr.on('data', (chunk: Buffer) => {
    said += chunk.toString();
  });
  child.stdout.on('data', (chunk: Buffer) => {
    out += chunk.toString();
  });
  const ended = new Promise<number | null>((resolve) => child.once('close', resolve));
  return { child, said: () => said, out: () => out, ended };
}

async function until(true_: () => boolean): Promise<void> {
  for (let wait = 0; !true_(); wait += 20) {
    if (wait > 40_000) throw new Error('waited in vain');
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}

async function served(started: Run): Promise<{ port: number; address: string }> {
  await until(() => existsSync(portFile) || started.child.exitCode !== null);
  if (!existsSync(portFile)) throw new Error(started.said());
  return JSON.parse(readFileSync(portFile, 'utf8'));
}

test('where the desktop shell cannot be used it is said in one line, and the browser serves', async () => {
  const started = run(['missing.csv']);
  await started.ended;
  const lines = started.said().match(/desktop shell.*/g) ?? [];
  expect(lines).toEqual([
    expect.stringMatching(/^desktop shell is not used: .+\. Runledger opens in the browser\.$/),
  ]);
  const forBrowser = run(['--browser', 'missing.csv']);
  await forBrowser.ended;
  expect(forBrowser.said()).not.toMatch(/desktop shell/);
});

test.each([
  [['--nope'], /^--nope: no such option/],
  [['missing.csv'], /^missing\.csv: there is no such file/],
  [['.'], /^\.: is a folder/],
])('%j: one message, exit 2, nothing served', async (words, message) => {
  const started = run(words);
  expect(await started.ended).toBe(2);
  const lines = started
    .said()
    .split('\n')
    .filter((line) => line !== '' && !/Build|desktop shell is not used/.test(line));
  expect(lines).toEqual([expect.stringMatching(message)]);
  expect(started.out()).toBe('');
});

test('it opens FILE, prints the address, says that there is no display, and keeps serving', async () => {
  writeFileSync(join(folder, 'larkspur.runledger'), sampleFile());
  const started = run(['larkspur.runledger', '--port-file', 'port.json']);
  const { port, address } = await served(started);
  await until(() => started.said().includes('browser on this machine'));
  expect(started.said()).toContain(address);
  expect(started.said()).toMatch(/There is no display to open a browser on\./);
  expect(started.said()).not.toMatch(/press enter/i);
  if (process.platform !== 'win32') expect(statSync(portFile).mode & 0o777).toBe(0o600);

  const { pathname, search, origin } = new URL(address);
  const entered = await send(port, { path: pathname + search });
  const cookie = String(entered.headers['set-cookie']).split(';')[0] ?? '';
  const page = await send(port, { path: '/', headers: { cookie } });
  const text = page.body.toString();
  const secret = /name="runledger-secret" content="([^"]+)"/.exec(text)?.[1] ?? '';
  const source = /<script[^>]* src="([^"]+)"/.exec(text)?.[1] ?? '';
  const code = await send(port, { path: new URL(source, origin).pathname, headers: { cookie } });
  expect([code.status, code.headers['content-type']]).toEqual([
    200,
    'text/javascript; charset=utf-8',
  ]);

  const ask = async (name: string, body: unknown) => {
    const headers = {
      origin,
      cookie,
      'x-runledger-secret': secret,
      'content-type': 'application/json',
    };
    const path = `/api/${name}`;
    const got = await send(port, { method: 'POST', path, headers, body: JSON.stringify(body) });
    return JSON.parse(got.body.toString());
  };
  const start = await ask('app.start', {});
  expect(start).toMatchObject({
    ok: true,
    value: { version: '0.1.0', launchFile: { name: 'larkspur.runledger' } },
  });
  const opened = await ask('file.open', { fileId: start.value.launchFile.fileId });
  expect(opened).toMatchObject({ ok: true, value: { kind: 'project', writable: true } });
  // The worker that reads schedules is found beside the bundle.
  const demo = await ask('file.demo', {});
  const schedule = await ask('file.open', { fileId: demo.value.fileId });
  expect(schedule).toMatchObject({ ok: true, value: { kind: 'schedule' } });
  // So is the writer of workbooks, which is loaded only when asked for.
  const exported = await ask('workbook.export', {
    projectText: opened.value.projectText,
    sourceFileIds: [],
    into: null,
    suggestedName: 'x',
  });
  expect(exported).toMatchObject({ ok: true, value: { output: { name: 'x.xlsx' } } });
  // What was opened by its path is among the recent files of the next start.
  const recent = await ask('file.recent', {});
  expect(recent).toMatchObject({ ok: true, value: [{ name: 'larkspur.runledger' }] });

  started.child.kill('SIGTERM');
  expect(await started.ended).toBe(0);
  expect(existsSync(portFile)).toBe(false);
  expect(started.out()).toBe('');
});

test('SIGINT ends it too, with a browser still connected', async () => {
  const started = run(['--no-open', '--port-file', 'port.json']);
  const { port } = await served(started);
  const held = fetch(`http://127.0.0.1:${port}/`).then((response) => response.status);
  expect(await held).toBe(403);
  started.child.kill('SIGINT');
  expect(await started.ended).toBe(0);
});

test('a port file that cannot be written: exit 4, nothing served', async () => {
  const started = run(['--no-open', '--port-file', 'no/such/folder/port.json']);
  expect(await started.ended).toBe(4);
  expect(started.said()).toMatch(/--port-file: Not saved\. The folder is no longer there\./);
});

const terminal = process.platform === 'linux' ? findProgram('script') : null;
describe.skipIf(!terminal)('needs script (util-linux): a terminal', () => {
  test('Enter prints a new address, which lets in; the one before no longer does', async () => {
    const command = `"${process.execPath}" "${script}" --no-open --port-file port.json`;
    const started = run(['-qec', command, '/dev/null'], {}, terminal ?? '');
    const { port, address } = await served(started);
    await until(() => started.out().includes('Press Enter'));
    started.child.stdin?.write('\n');
    const addresses = () => started.out().match(/http:\S+/g) ?? [];
    await until(() => addresses().length > 1);
    const second = addresses().at(-1) ?? '';
    expect(second).not.toBe(address);
    const enter = async (at: string) =>
      (await send(port, { path: at.slice(at.indexOf('/', 8)) })).status;
    expect(await enter(address)).toBe(403);
    expect(await enter(second)).toBe(303);
    started.child.stdin?.write('\u0003');
    await started.ended;
    expect(existsSync(portFile)).toBe(false);
  });
});
