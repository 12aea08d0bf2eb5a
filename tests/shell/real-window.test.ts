/** The window of the desktop shell as it is, driven by Playwright, where its program can be had. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { _electron, type ElectronApplication } from 'playwright';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { ensureBuilt } from '../../src-main/start/ensure-built.mjs';
import {
  electronProgram,
  theseSurroundings,
  whyNoWindow,
} from '../../src-main/start/find-electron.mjs';

const surroundings = theseSurroundings();
const program = whyNoWindow(surroundings) === null ? electronProgram(surroundings) : null;

describe.skipIf(program === null)('needs the Electron binary: the real window', () => {
  let folder = '';
  let app: ElectronApplication;
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'runledger-real-'));
    const built = await ensureBuilt();
    app = await _electron.launch({
      executablePath: program ?? '',
      args: [join(built, 'main/desktop.js'), '--demo'],
      env: { ...process.env, RUNLEDGER_STATE_DIR: folder, INIT_CWD: folder },
    });
  });
  afterAll(async () => {
    await app?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  test('shows the demo by its own protocol, without a fault, and knows nothing of Node', async () => {
    const page = await app.firstWindow();
    const faults: string[] = [];
    page.on('pageerror', (fault) => faults.push(fault.message));
    expect(page.url()).toBe('runledger://window/');
    await page.getByRole('button', { name: 'I have read this' }).click();
    await page.getByRole('button', { name: 'To the schedule' }).click();
    await page.locator('.ag-row').first().waitFor();
    const reach = await page.evaluate(() => ({
      require: typeof Reflect.get(window, 'require'),
      process: typeof Reflect.get(window, 'process'),
      bridge: Object.keys(Object(Reflect.get(window, 'runledger'))).sort(),
    }));
    expect(reach).toEqual({
      require: 'undefined',
      process: 'undefined',
      bridge: ['ask', 'hold', 'onEvent'],
    });
    expect(faults).toEqual([]);
  });

  test('is not let out: no fetch, no navigation, no window', async () => {
    const page = await app.firstWindow();
    const outside = await page.evaluate(() =>
      fetch('https://example.org/').then(
        () => 'fetched',
        () => 'refused',
      ),
    );
    expect(outside).toBe('refused');
    await page.evaluate(() => {
      window.open('https://example.org/');
      location.href = 'https://example.org/';
    });
    await page.waitForTimeout(500);
    expect(page.url()).toBe('runledger://window/');
    expect(app.windows()).toHaveLength(1);
  });

  test('saves by the system’s dialog, then in place', async () => {
    const page = await app.firstWindow();
    const path = join(folder, 'saved.runledger');
    await app.evaluate(({ dialog }, filePath) => {
      dialog.showSaveDialog = async () => ({ canceled: false, filePath });
    }, path);
    await page.keyboard.press('ControlOrMeta+s');
    await expect.poll(() => page.title()).not.toMatch(/unsaved/);
    const first = readFileSync(path);
    expect(first.subarray(0, 2).toString()).toBe('PK');
    await app.evaluate(({ dialog }) => {
      dialog.showSaveDialog = () => Promise.reject(new Error('asked again'));
    });
    await page.keyboard.press('ControlOrMeta+s');
    await page.locator('.reading-line .said').getByText('Saved.').waitFor();
    expect(readFileSync(path).equals(first)).toBe(true);
  });
});
