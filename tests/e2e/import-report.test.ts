/** The import report: every reading shown, each changeable, nothing of later work lost. */
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  type App,
  browserProgram,
  type Desk,
  OpenWindow,
  openDesk,
  startApp,
} from './open-window.ts';

const job = fileURLToPath(
  new URL('../files/second-job/thistlemere-aqueduct.xlsx', import.meta.url),
);

describe.skipIf(browserProgram === null)('needs Chromium: the import report', () => {
  let desk: Desk;
  let app: App;
  let win: OpenWindow;
  beforeAll(async () => {
    desk = await openDesk();
    app = await startApp(desk.folder, [job]);
    win = new OpenWindow(await (await desk.browser.newContext()).newPage());
    await win.page.goto(app.address);
    await win.page.getByRole('button', { name: 'I have read this' }).click();
  });
  afterAll(async () => {
    await app?.kill();
    await desk?.close();
  });

  const rowOf = (cell: string) => win.page.locator('.import-readings .ag-row', { hasText: cell });

  test('counts every row and shows every cell that was not plain', async () => {
    // tests/files/second-job: 68 fixtures, 9 rows that are none.
    const words = await win.page.locator('.import-head p').textContent();
    expect(words).toContain('68 rows read + 9 skipped = 77 source rows');
    expect(await rowOf('Schedule!Q10').textContent()).toContain('7,5 m7.5 m');
    expect(await win.page.getByText('struck through').isVisible()).toBe(true);
  });

  test('another text is read instead, edits made meanwhile stay, undo takes it back', async () => {
    const { page } = win;
    await page.getByRole('button', { name: 'To the schedule' }).click();
    await win.cell('f9', 'span').waitFor();
    const before = await win.cell('f2', 'span').textContent();
    await win.cell('f9', 'span').click();
    await page.keyboard.type('3 m');
    await page.keyboard.press('Enter');
    await page.getByRole('tab', { name: 'Import report' }).click();
    await rowOf('Schedule!Q9').locator('[col-id="raw"]').click();
    await page.keyboard.type('8,25');
    await page.keyboard.press('Enter');
    await expect.poll(() => rowOf('Schedule!Q9').textContent()).toContain('8.25 m');
    await page.getByRole('tab', { name: /^Schedule/ }).click();
    await win.cell('f9', 'span').waitFor();
    expect(await win.cell('f9', 'span').textContent()).toBe('3 m');
    expect(await win.cell('f2', 'span').textContent()).toBe('8.25 m');
    await page.keyboard.press('Control+z');
    await expect.poll(() => win.cell('f2', 'span').textContent()).toBe(before);
    expect(await win.cell('f9', 'span').textContent()).toBe('3 m');
  });

  test('a column is read as another; one that cannot be left out stays', async () => {
    const { page } = win;
    await page.getByRole('tab', { name: 'Import report' }).click();
    const location = page.getByLabel('Read Location as');
    await location.selectOption('');
    await expect.poll(() => win.said()).toBe('Column Location: read again.');
    expect(await location.inputValue()).toBe('');
    const tag = page.getByLabel('Read Fixture tag as');
    await tag.selectOption('');
    await expect
      .poll(() => page.getByRole('alert').textContent())
      .toContain('stays read as it was');
    expect(await tag.inputValue()).toBe('tag');
    expect(win.faults).toEqual([]);
  });
});
