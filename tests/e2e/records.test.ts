/** The small tables in a real browser. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  type App,
  browserProgram,
  type Desk,
  OpenWindow,
  openDesk,
  startApp,
} from './open-window.ts';

describe.skipIf(browserProgram === null)('needs Chromium: the tables', () => {
  let desk: Desk;
  let app: App;
  let win: OpenWindow;

  beforeAll(async () => {
    desk = await openDesk();
    app = await startApp(desk.folder, ['--demo']);
    const context = await desk.browser.newContext({ viewport: { width: 1440, height: 900 } });
    win = new OpenWindow(await context.newPage());
    await win.page.goto(app.address);
    await win.toSchedule();
  });
  afterAll(async () => {
    await app?.kill();
    await desk?.close();
  });

  test('an added type is under hand: its name is typed over at once', async () => {
    const { page } = win;
    await page.getByRole('tab', { name: /^Types/ }).click();
    await page.getByRole('button', { name: 'Add', exact: true }).click();
    await page.locator('.ag-row', { hasText: /Type \d/ }).waitFor();
    await page.keyboard.type('ZZ9');
    await page.keyboard.press('Enter');
    await page.locator('[row-id="ZZ9"]').first().waitFor();
    expect(await page.locator('[row-id="RB1"]').count()).toBeGreaterThan(0);
    expect(win.faults).toEqual([]);
  });
});
