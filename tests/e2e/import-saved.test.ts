/** A job saved and opened again: its answers hold, its sheets show, and the next answer finds its base. */
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { arrival, ImportDesk, openImport, soon } from './import-steps.ts';
import { browserProgram, type Desk, OpenWindow, openDesk, startApp } from './open-window.ts';

describe.skipIf(browserProgram === null)('needs Chromium: answers of a saved job', () => {
  let desk: Desk;
  let at: ImportDesk;
  beforeAll(async () => {
    desk = await openDesk();
    at = await openImport(desk, arrival('meridew-tower-crown.xlsx'));
  });
  afterAll(async () => {
    await at?.app.kill();
    await desk?.close();
  });

  test('are kept with it, and go on where they stopped', async () => {
    const { page } = at;
    await at.show('L41');
    await at.type('F7', '12 ft');
    await soon(() => at.said()).toContain('L41!F7 read as 12 ft');
    const wanted = page.locator('.report-head h3');
    const open = await wanted.textContent();
    await at.reading('L41!G5').click();
    await page.keyboard.press('Enter');
    await soon(() => wanted.textContent()).not.toBe(open);
    const left = await wanted.textContent();
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save', exact: true }).click(),
    ]);
    const path = join(desk.folder, 'crown.runledger');
    await download.saveAs(path);
    await soon(() => at.said()).toContain('Saved');
    await page.context().close();
    await at.app.kill();
    const app = await startApp(desk.folder, [path]);
    const win = new OpenWindow(await (await desk.browser.newContext()).newPage());
    at = new ImportDesk(win, app);
    await win.page.goto(app.address);
    await win.page.getByRole('tab', { name: 'Import report' }).click();
    await win.page.locator('.preview-place .ag-row').first().waitFor();
    await at.show('L41');
    expect(await at.cell('F7').textContent()).toContain('12 ft8.5');
    expect(await win.page.locator('.report-head h3').textContent()).toBe(left);
    await at.cell('F7').click();
    await win.page.keyboard.press('Control+Backspace');
    await soon(() => at.said()).toContain('L41!F7 as in the file: 1 fixture changed');
    expect(await at.cell('F7').textContent()).toBe('8.5');
    await at.undo();
    await soon(() => at.cell('F7').textContent()).toContain('12 ft8.5');
    expect(win.faults).toEqual([]);
  });
});
