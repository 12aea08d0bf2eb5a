/** Whether the desktop shell is started, fetched, or left alone; and what happens when it cannot start. */
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeEach, describe, expect, test } from 'vitest';
import { fetchElectron } from '../../src-main/start/fetch-electron.mjs';
import { electronProgram, whyNotFetch, whyNoWindow } from '../../src-main/start/find-electron.mjs';
import { runElectron } from '../../src-main/start/run-electron.mjs';

const top = mkdtempSync(join(tmpdir(), 'runledger-electron-'));
afterAll(() => rmSync(top, { recursive: true, force: true }));

let packageFolder = '';
beforeEach(() => {
  packageFolder = mkdtempSync(join(top, 'package-'));
});
const surroundings = (part: Partial<Parameters<typeof electronProgram>[0]> = {}) => ({
  platform: 'linux' as NodeJS.Platform,
  env: { DISPLAY: ':0' } as Record<string, string | undefined>,
  isRoot: false,
  packageFolder,
  ...part,
});
const put = (path: string, text = 'x') => {
  mkdirSync(join(path, '..'), { recursive: true });
  writeFileSync(path, text);
  return path;
};

describe('the program', () => {
  test('is found by path.txt, as the package’s installer leaves it', () => {
    expect(electronProgram(surroundings())).toBeNull();
    put(join(packageFolder, 'path.txt'), 'electron');
    // Named, but not there, or empty after a crash: a broken install is none.
    expect(electronProgram(surroundings())).toBeNull();
    put(join(packageFolder, 'dist/electron'), '');
    expect(electronProgram(surroundings())).toBeNull();
    const program = put(join(packageFolder, 'dist/electron'));
    expect(electronProgram(surroundings())).toBe(program);
    expect(electronProgram(surroundings({ packageFolder: null }))).toBeNull();
  });

  test('may lie elsewhere, by ELECTRON_OVERRIDE_DIST_PATH', () => {
    const folder = mkdtempSync(join(top, 'own-'));
    const env = { DISPLAY: ':0', ELECTRON_OVERRIDE_DIST_PATH: folder };
    expect(electronProgram(surroundings({ env }))).toBeNull();
    const program = put(join(folder, 'electron'));
    expect(electronProgram(surroundings({ env }))).toBe(program);
    const exe = put(join(folder, 'electron.exe'));
    expect(electronProgram(surroundings({ env, platform: 'win32' }))).toBe(exe);
  });

  test('opens no window without a display, nor as root', () => {
    expect(whyNoWindow(surroundings())).toBeNull();
    expect(whyNoWindow(surroundings({ env: {} }))).toMatch(/no display/);
    expect(whyNoWindow(surroundings({ env: { WAYLAND_DISPLAY: 'w' } }))).toBeNull();
    expect(whyNoWindow(surroundings({ isRoot: true }))).toMatch(/root/);
    expect(whyNoWindow(surroundings({ env: {}, platform: 'darwin' }))).toBeNull();
  });
});

describe('fetching', () => {
  test('can be told not to, and is never done on CI', () => {
    expect(whyNotFetch(surroundings(), [])).toBeNull();
    expect(whyNotFetch(surroundings(), ['--no-fetch'])).toMatch(/--no-fetch/);
    const env = (more: Record<string, string>) => surroundings({ env: { DISPLAY: ':0', ...more } });
    expect(whyNotFetch(env({ RUNLEDGER_NO_FETCH: '1' }), [])).toMatch(/RUNLEDGER_NO_FETCH/);
    expect(whyNotFetch(env({ CI: 'true' }), [])).toMatch(/CI/);
    expect(whyNotFetch(surroundings({ packageFolder: null }), [])).toMatch(/not installed/);
  });

  test('that succeeds leaves the program', async () => {
    const path = JSON.stringify(join(packageFolder, 'path.txt'));
    put(
      join(packageFolder, 'install.js'),
      `require('node:fs').writeFileSync(${path}, 'electron');`,
    );
    put(join(packageFolder, 'dist/electron'));
    expect(await fetchElectron(packageFolder)).toBe(true);
    expect(electronProgram(surroundings())).toBe(join(packageFolder, 'dist/electron'));
    expect(whyNotFetch(surroundings(), [])).toBeNull();
  });

  test('that fails is not tried again before the next install', async () => {
    put(join(packageFolder, 'install.js'), 'process.exit(1);');
    expect(await fetchElectron(packageFolder)).toBe(false);
    expect(whyNotFetch(surroundings(), [])).toMatch(/failed before/);
    expect(existsSync(join(packageFolder, 'fetch-tried'))).toBe(true);
  });

  test('that ends well and leaves nothing is a failure, tried once', async () => {
    put(join(packageFolder, 'install.js'), 'process.exit(0);');
    expect(await fetchElectron(packageFolder)).toBe(false);
    expect(whyNotFetch(surroundings(), [])).toMatch(/failed before/);
  });

  test('that hangs is ended', async () => {
    put(join(packageFolder, 'install.js'), 'setInterval(() => {}, 1000);');
    const begun = performance.now();
    expect(await fetchElectron(packageFolder, 400)).toBe(false);
    expect(performance.now() - begun).toBeLessThan(5_000);
  });
});

describe('running', () => {
  const entry = (text: string) => put(join(mkdtempSync(join(top, 'entry-')), 'entry.cjs'), text);

  test('a shell that cannot start is a reason, so that the browser takes over', async () => {
    expect(await runElectron(join(top, 'no-such-program'), 'x', [])).toBe(
      'its program cannot be run (ENOENT)',
    );
    // A fault that Node throws at once instead of telling it by an event.
    if (process.platform !== 'win32') {
      const within = join(put(join(top, 'a-file')), 'electron');
      expect(await runElectron(within, 'x', [])).toMatch(/ENOTDIR/);
    }
    expect(await runElectron(process.execPath, entry('process.exit(133);'), [])).toBe(
      'it ended at once (exit 133)',
    );
    const killed = entry("process.kill(process.pid, 'SIGTRAP');");
    if (process.platform !== 'win32') {
      expect(await runElectron(process.execPath, killed, [])).toBe('it ended at once (SIGTRAP)');
    }
  });

  test('its own ends are passed on, with the words, and nothing turns it into plain Node', async () => {
    const out = join(top, 'told.json');
    const text = `require('node:fs').writeFileSync(${JSON.stringify(out)}, JSON.stringify([
      process.argv.slice(2), process.env.ELECTRON_RUN_AS_NODE ?? null, process.env.NODE_OPTIONS ?? null,
    ])); process.exit(2);`;
    const before = process.exitCode;
    process.env.ELECTRON_RUN_AS_NODE = '1';
    expect(await runElectron(process.execPath, entry(text), ['a b.csv', '--demo'])).toBeNull();
    delete process.env.ELECTRON_RUN_AS_NODE;
    expect(process.exitCode).toBe(2);
    process.exitCode = before;
    expect(JSON.parse(readFileSync(out, 'utf8'))).toEqual([['a b.csv', '--demo'], null, null]);
  });
});
