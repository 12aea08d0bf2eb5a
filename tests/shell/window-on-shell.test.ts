/**
 * The built window on the shell's own services, border, menu and protocol answers, in a browser: the
 * whole of the desktop but for Electron itself, in whose place the recording stub stands.
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { readPageFiles } from '../../src-main/page/page-files.ts';
import { builtPages, type PageSource } from '../../src-main/page/page-source.ts';
import { unpackProject } from '../../src-main/projects/unpack-project.ts';
import { HOLD_CHANNEL } from '../../src-main/shell/channels.ts';
import { answerPage } from '../../src-main/shell/page-answer.ts';
import { ensureBuilt } from '../../src-main/start/ensure-built.mjs';
import { browserProgram, OpenWindow } from '../e2e/open-window.ts';
import { sampleFile } from '../projects/sample-file.ts';
import { app, callsOf, dialogAnswers, invoke, menuItems } from './electron-stub.ts';
import { openShell, type Shell } from './open-shell.ts';

vi.mock('electron', () => import('./electron-stub.ts'));

/** Stands for `runledger://window/`, which only Electron knows. */
const ORIGIN = 'https://window.test';

/** The bridge of the preload script, over a function the test puts into the page. */
function bridgeInPage(): void {
  const listeners = new Set<(event: unknown) => void>();
  const call = (what: string, ...args: unknown[]): Promise<unknown> =>
    Reflect.get(window, 'shellCall')(what, ...args);
  Reflect.set(window, 'shellTells', (event: unknown) => {
    for (const listener of listeners) listener(event);
  });
  Reflect.set(window, 'runledger', {
    ask: (name: string, question: unknown) => call('ask', name, question),
    hold: async (file: File) => call('hold', file.name, await file.text()),
    onEvent: (listener: (event: unknown) => void) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  });
}

describe.skipIf(browserProgram === null)('needs Chromium: the window on the shell', () => {
  let shell: Shell;
  let browser: Browser;
  let page: Page;
  let win: OpenWindow;
  let pages: PageSource;

  async function serve(): Promise<void> {
    await page.route('**/*', async (route) => {
      const url = route.request().url().replace(ORIGIN, 'runledger://window');
      const { status, headers, body } = await answerPage(pages, { url, method: 'GET' });
      await route.fulfill({ status, headers, body: Buffer.from(body) });
    });
    await page.exposeFunction('shellCall', async (what: string, ...args: unknown[]) => {
      if (what === 'ask') return shell.ask(args[0] as 'app.start', args[1] as never);
      const [name, text] = args.map(String);
      return invoke(HOLD_CHANNEL, [{ name, bytes: new Uint8Array(Buffer.from(text ?? '')) }]);
    });
    const contents = shell.window().webContents;
    const send = contents.send.bind(contents);
    contents.send = (channel, message) => {
      send(channel, message);
      void page.evaluate((event) => Reflect.get(window, 'shellTells')(event), message);
    };
    await page.addInitScript(bridgeInPage);
    await page.goto(`${ORIGIN}/`);
  }

  const give = async (label: string) => {
    const entry = () => menuItems().find((item) => item.label === label);
    await expect.poll(() => entry()?.enabled).toBe(true);
    entry()?.click?.();
  };
  const title = () => shell.window().title;
  const edit = async (text: string) => {
    await win.cell('f3', 'span').click();
    await page.keyboard.type(text);
    await page.keyboard.press('Enter');
    await expect.poll(title).toMatch(/^• unsaved/);
  };

  beforeAll(async () => {
    const built = await ensureBuilt();
    pages = builtPages(await readPageFiles(join(built, 'renderer')));
    shell = await openShell(['--demo'], { pages: async () => pages });
    browser = await chromium.launch({
      executablePath: browserProgram ?? '',
      args: ['--no-sandbox'],
    });
    page = await browser.newPage();
    win = new OpenWindow(page);
    await serve();
    await win.toSchedule();
  });
  afterAll(async () => {
    await browser?.close();
    shell?.remove();
  });

  test('starts by the bridge, under the policy, without a fault; the frame shows its title', async () => {
    expect(await win.counts()).toContain('stop: 4 stop');
    await expect.poll(title).toBe('Foxglove Roundhouse Museum – Runledger');
    expect(shell.window().edited).toBe(false);
    expect(win.faults).toEqual([]);
  });

  test('the menu undoes, redoes and shows; commands that cannot be given are off', async () => {
    await edit('15 ft');
    await give('Undo');
    await expect.poll(() => win.cell('f3', 'span').textContent()).not.toBe('15 ft');
    await expect.poll(title).not.toMatch(/unsaved/);
    await give('Redo');
    await expect.poll(() => win.cell('f3', 'span').textContent()).toBe('15 ft');
    await give('Columns shown…');
    await page.getByRole('dialog', { name: 'Columns shown' }).waitFor();
    await expect.poll(() => menuItems().find(({ label }) => label === 'Save')?.enabled).toBe(false);
    await page.keyboard.press('Escape');
  });

  test('save as by the dialog, then in place, by menu and by key', async () => {
    const path = join(shell.folder, 'museum.runledger');
    dialogAnswers.save.push({ canceled: false, filePath: path });
    await give('Save');
    await expect.poll(() => existsSync(path)).toBe(true);
    await expect.poll(title).not.toMatch(/unsaved/);
    await edit('16 ft');
    await page.keyboard.press('Control+s');
    await expect.poll(title).not.toMatch(/unsaved/);
    expect(callsOf('showSaveDialog')).toHaveLength(1);
    const saved = unpackProject(new Uint8Array(readFileSync(path)));
    expect(saved.ok && saved.sources.map(({ name }) => name)).toEqual(['foxglove-roundhouse.xlsx']);
    // 16 ft of 0.3048 m (international foot, exact since 1959).
    const span = saved.ok ? saved.project.fixtures.find(({ id }) => id === 'f3')?.spanM : null;
    expect(span).toBeCloseTo(16 * 0.3048, 12);
    await expect
      .poll(() => menuItems().some(({ label }) => label === 'museum.runledger'))
      .toBe(true);
  });

  test('a dialog that is closed leaves the job unsaved', async () => {
    await edit('17 ft');
    await give('Save as…');
    await expect.poll(() => callsOf('showSaveDialog').length).toBe(2);
    await page.waitForTimeout(100);
    expect(title()).toMatch(/^• unsaved/);
  });

  test('export goes where the dialog says; into the own workbook first', async () => {
    const path = join(shell.folder, 'marked.xlsx');
    dialogAnswers.save.push({ canceled: false, filePath: path });
    await give('Export marked-up schedule…');
    await expect.poll(() => existsSync(path)).toBe(true);
    await page.locator('.said').getByText('One row was not found.').waitFor();
    // The test's own writer puts the place and name of the source behind the source's bytes.
    expect(readFileSync(path).includes(Buffer.from('0 foxglove-roundhouse.xlsx {'))).toBe(true);
  });

  test('print asks the system', async () => {
    await give('Print…');
    await expect.poll(() => callsOf('webContents.print').length).toBe(1);
    shell.window().webContents.printed?.(true, '');
  });

  test('a file handed over by a second start: asked about unsaved work first, then opened', async () => {
    const path = join(shell.folder, 'larkspur.runledger');
    writeFileSync(path, sampleFile());
    app.emit('second-instance', {}, [], '', { file: path });
    await page.getByRole('dialog', { name: 'Save your changes?' }).waitFor();
    await page.getByRole('button', { name: 'Cancel' }).click();
    expect(title()).toMatch(/Foxglove/);
    app.emit('second-instance', {}, [], '', { file: path });
    await page.getByRole('button', { name: 'Do not save' }).click();
    await expect.poll(title).toBe('Larkspur Footbridge – Runledger');
  });

  test('bytes that come to nothing are not held on', async () => {
    const { store } = shell.parts;
    const put = vi.spyOn(store, 'put');
    await page.evaluate(() => {
      const dataTransfer = new DataTransfer();
      dataTransfer.items.add(new File([''], 'empty.csv'));
      document.dispatchEvent(new DragEvent('drop', { dataTransfer, cancelable: true }));
    });
    await page.locator('.said').getByText(/empty/).waitFor();
    const held = put.mock.results[0]?.value;
    put.mockRestore();
    await expect.poll(() => store.get(held.ok ? held.file.fileId : '')).toBeNull();
    expect(held.file.name).toBe('empty.csv');
  });

  test('a file that cannot be opened is said in the window', async () => {
    app.emit('second-instance', {}, [], '', { file: join(shell.folder, 'gone.csv') });
    await page
      .locator('.said')
      .getByText(/gone\.csv: there is no such file/)
      .waitFor();
  });

  test('closing: asked about unsaved work in the window; cancel stays, an answer closes', async () => {
    await give('New job');
    await expect.poll(title).toBe('New job – Runledger');
    await page.getByRole('tab', { name: /^Assumptions/ }).click();
    await page.getByLabel('Job', { exact: true }).fill('Brand new');
    await page.getByLabel('Job', { exact: true }).press('Tab');
    await expect.poll(title).toMatch(/^• unsaved: Brand new/);
    const question = page.getByRole('dialog', { name: 'Save your changes?' });
    expect(shell.window().cross()).toBe(false);
    await question.waitFor();
    // Crossed again while it asks: the question stands, and the shell does not ask on its own.
    shell.window().cross();
    await page.getByRole('button', { name: 'Cancel' }).click();
    await question.waitFor({ state: 'detached' });
    expect(shell.window().destroyed).toBe(false);
    shell.window().cross();
    await page.getByRole('button', { name: 'Do not save' }).click();
    await expect.poll(() => shell.window().destroyed).toBe(true);
    expect(callsOf('showMessageBox')).toEqual([]);
    expect(win.faults).toEqual([]);
  });
});
