/** Unsaved work: the question before it is left, the recovery copy after a crash. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { browserProgram, type Desk, OpenWindow, openDesk, startApp } from './open-window.ts';

describe.skipIf(browserProgram === null)('needs Chromium: unsaved work', () => {
  let desk: Desk;
  beforeAll(async () => {
    desk = await openDesk();
  });
  afterAll(() => desk?.close());

  async function open(words: readonly string[]) {
    const app = await startApp(desk.folder, words);
    const context = await desk.browser.newContext();
    const win = new OpenWindow(await context.newPage());
    await win.page.goto(app.address);
    return { app, context, win, page: win.page };
  }

  test('is asked about, kept within two seconds, and offered after the program was killed', async () => {
    const { app, context, win, page } = await open(['--demo']);
    await win.toSchedule();
    await win.cell('f3', 'span').click();
    await page.keyboard.type('15');
    const kept = page.waitForResponse((response) => response.url().endsWith('/api/recovery.keep'));
    const since = Date.now();
    await page.keyboard.press('Enter');
    expect(await (await kept).json()).toMatchObject({ ok: true });
    expect(Date.now() - since).toBeLessThan(2000);

    await page.getByRole('button', { name: 'More' }).click();
    await page.getByRole('menuitem', { name: 'New job' }).click();
    await page.getByRole('dialog', { name: 'Save your changes?' }).waitFor();
    await page.getByRole('button', { name: 'Cancel' }).click();
    expect(await win.cell('f3', 'span').textContent()).toBe('15 ft');
    await app.kill();
    await context.close();

    const again = await open([]);
    // The caution was read at the first start; what the window keeps outlives the program.
    const offer = again.page.getByRole('dialog', { name: 'Work that was not saved' });
    await offer.getByText('Foxglove Roundhouse Museum rev B').waitFor();
    await offer.getByRole('button', { name: 'Open' }).click();
    await expect.poll(() => again.win.cell('f3', 'span').textContent()).toBe('15 ft');
    expect(await again.page.title()).toMatch(/^• unsaved/);
    await again.page.getByRole('button', { name: 'More' }).click();
    await again.page.getByRole('menuitem', { name: 'New job' }).click();
    // The copy goes once the new job is open in its place.
    const gone = again.page.waitForResponse((response) =>
      response.url().endsWith('/api/recovery.drop'),
    );
    await again.page.getByRole('button', { name: 'Do not save' }).click();
    await gone;
    await expect.poll(() => again.page.title()).toBe('New job – Runledger');
    await again.app.kill();
    await again.context.close();

    const third = await open([]);
    await third.page.getByRole('heading', { name: 'Open a fixture schedule' }).waitFor();
    expect(await third.page.getByRole('dialog').count()).toBe(0);
    await third.app.kill();
    await third.context.close();
  });

  test('outlives a file that does not open in its place', async () => {
    const { app, context, win, page } = await open(['--demo']);
    await page.getByRole('button', { name: 'To the schedule' }).click();
    await win.cell('f3', 'span').click();
    await page.keyboard.type('15');
    const kept = page.waitForResponse((response) => response.url().endsWith('/api/recovery.keep'));
    await page.keyboard.press('Enter');
    await kept;
    const dropped: string[] = [];
    page.on('request', (request) => {
      if (request.url().endsWith('/api/recovery.drop')) dropped.push(request.url());
    });
    const chooser = page.waitForEvent('filechooser');
    await page.getByRole('button', { name: 'Open', exact: true }).click();
    const empty = { name: 'empty.xlsx', mimeType: 'text/plain', buffer: Buffer.alloc(0) };
    await (await chooser).setFiles(empty);
    await page.getByRole('button', { name: 'Do not save' }).click();
    await expect.poll(() => win.said()).toContain('The file is empty.');
    expect(await win.cell('f3', 'span').textContent()).toBe('15 ft');
    expect(dropped).toEqual([]);
    await app.kill();
    await context.close();

    const again = await open([]);
    const offer = again.page.getByRole('dialog', { name: 'Work that was not saved' });
    await offer.getByText('Foxglove Roundhouse Museum rev B').waitFor();
    await again.app.kill();
    await again.context.close();
  });
});
