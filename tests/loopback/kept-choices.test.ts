/** What the host keeps for the window, and the questions a save and an export may ask: in a browser. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { unpackProject } from '../../src-main/projects/unpack-project.ts';
import {
  type App,
  browserProgram,
  type Desk,
  OpenWindow,
  openDesk,
  startApp,
} from '../e2e/open-window.ts';
import { sampleFile } from '../projects/sample-file.ts';

describe.skipIf(browserProgram === null)('needs Chromium: choices kept and questions asked', () => {
  let desk: Desk;
  let path = '';
  let app: App | null = null;
  beforeAll(async () => {
    desk = await openDesk();
    path = join(desk.folder, 'larkspur.runledger');
    writeFileSync(path, sampleFile([]));
  });
  afterAll(async () => {
    await app?.kill();
    await desk?.close();
  });

  async function open(words: readonly string[]): Promise<{ page: Page; win: OpenWindow }> {
    await app?.kill();
    app = await startApp(desk.folder, words);
    const win = new OpenWindow(await (await desk.browser.newContext()).newPage());
    await win.page.goto(app.address);
    return { page: win.page, win };
  }
  /** axe with the WCAG 2.2 AA tags. */
  const violations = async (page: Page) => {
    const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
    const judged = await new AxeBuilder({ page }).withTags(tags).analyze();
    return judged.violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`);
  };
  const chosen = (page: Page) =>
    page.evaluate(() => document.documentElement.getAttribute('data-theme'));
  const more = async (page: Page, item: string) => {
    await page.getByRole('button', { name: 'More' }).click();
    await page.getByRole('menu').getByText(item, { exact: true }).click();
  };
  const nameOnDisk = () => {
    const unpacked = unpackProject(new Uint8Array(readFileSync(path)));
    return unpacked.ok ? unpacked.project.name : unpacked.reason.what;
  };
  /** Another name makes the job unsaved. */
  async function rename(page: Page, name: string): Promise<void> {
    await page.getByRole('tab', { name: /^Assumptions/ }).click();
    const field = page.getByLabel('Job', { exact: true });
    await field.fill(name);
    await field.press('Tab');
    await expect.poll(() => page.title()).toMatch(/^• unsaved/);
  }

  test('theme, columns and the caution hold at the next start, at another port', async () => {
    const first = await open([path]);
    await first.page.getByRole('button', { name: 'I have read this' }).click();
    await more(first.page, 'Dark');
    await first.page.keyboard.press('Escape');
    await more(first.page, 'Columns shown');
    await first.page.locator('input[type=checkbox]:checked:not(:disabled)').first().uncheck();
    await first.page.getByRole('button', { name: 'Close', exact: true }).click();
    const kept = () => JSON.parse(readFileSync(join(desk.folder, 'runledger/memory.json'), 'utf8'));
    await expect
      .poll(() => Object.keys(kept().texts).sort())
      .toEqual(['window.caution-accepted', 'window.columns', 'window.theme']);
    const { page, win } = await open([path]);
    await page.locator('.ag-row').first().waitFor();
    expect(await chosen(page)).toBe('dark');
    expect(await page.getByRole('dialog').count()).toBe(0);
    expect(win.faults).toEqual([]);
  });

  test('what was opened by its path is offered at the next start, and opens', async () => {
    const { page, win } = await open([]);
    await page.getByRole('heading', { name: 'Opened lately' }).waitFor();
    expect(await violations(page)).toEqual([]);
    await page.getByRole('button', { name: 'larkspur.runledger' }).click();
    await expect.poll(() => page.title()).toBe('Larkspur Footbridge – Runledger');
    expect(win.faults).toEqual([]);
  });

  test('a file changed by another program: the user is asked, and each way does what it says', async () => {
    const { page } = await open([path]);
    await rename(page, 'Mine');
    const question = page.getByRole('dialog', { name: 'The file was changed meanwhile' });
    const act = (name: string) => question.getByRole('button', { name }).click();
    writeFileSync(path, sampleFile([]).subarray(0, 500));

    await page.keyboard.press('Control+s');
    await question.waitFor();
    expect(await violations(page)).toEqual([]);
    await act('Cancel');
    expect(readFileSync(path)).toHaveLength(500);
    expect(await page.title()).toBe('• unsaved: Mine – Runledger');

    await page.keyboard.press('Control+s');
    const leaving = page.waitForEvent('download');
    await act('Save mine as new file');
    expect((await leaving).suggestedFilename()).toBe('Mine rev B.runledger');
    expect(readFileSync(path)).toHaveLength(500);

    await rename(page, 'Mine again');
    await page.keyboard.press('Control+s');
    await act('Keep mine');
    await expect.poll(nameOnDisk).toBe('Mine again');
    await expect.poll(() => page.title()).toBe('Mine again – Runledger');

    await rename(page, 'Third');
    writeFileSync(path, sampleFile([]));
    await page.keyboard.press('Control+s');
    await act('Open theirs');
    await expect.poll(() => page.title()).toBe('Larkspur Footbridge – Runledger');
  });

  test('a new workbook can be exported although the job came from one', async () => {
    const { page } = await open(['--demo']);
    await page.getByRole('button', { name: 'To the schedule' }).click();
    const leaving = page.waitForEvent('download');
    await more(page, 'Export as new workbook');
    const bytes = readFileSync(await (await leaving).path());
    expect(bytes.subarray(0, 2).toString()).toBe('PK');
    await page
      .locator('.said')
      .getByText(/^Marked-up schedule written as /)
      .waitFor();
  });
});
