/** The schedule in a real browser: keys, entries, findings, undo, save. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import {
  type App,
  browserProgram,
  type Desk,
  OpenWindow,
  openDesk,
  startApp,
} from './open-window.ts';

describe.skipIf(browserProgram === null)('needs Chromium: the schedule', () => {
  let desk: Desk;
  let app: App;
  let win: OpenWindow;

  beforeAll(async () => {
    desk = await openDesk();
    app = await startApp(desk.folder);
    const context = await desk.browser.newContext({ viewport: { width: 1440, height: 900 } });
    win = new OpenWindow(await context.newPage());
    await win.page.goto(app.address);
    await win.page.getByRole('button', { name: 'I have read this' }).click();
  });
  afterAll(async () => {
    await app?.kill();
    await desk?.close();
  });
  beforeEach(async () => {
    await win.demoAgain();
    return () => expect(win.faults).toEqual([]);
  });

  test('shows the numbers of the demo and counts its ten stops and breaches', async () => {
    // tests/demo: computed independently of the app.
    expect(await win.counts()).toContain('stop: 4 stop');
    expect(await win.counts()).toContain('breach: 6 breach');
    expect(await win.cell('f18', 'voltsHere').textContent()).toBe('199.98');
    expect(await win.cell('f18', 'drop').textContent()).toContain('3.86 %');
    expect(await win.page.title()).toBe('Foxglove Roundhouse Museum – Runledger');
  });

  test('takes lengths and sums, says what it understood, solves at once', async () => {
    await win.cell('f3', 'span').click();
    await win.page.keyboard.type('10 ft + 5 ft');
    await expect.poll(() => win.page.locator('.understood').textContent()).toBe('15 ft = 4.572 m');
    await win.page.keyboard.press('Enter');
    await expect.poll(() => win.cell('f3', 'span').textContent()).toBe('15 ft');
    expect(await win.focused()).toBe('f4 span');
    await expect.poll(() => win.said()).toBe('Span: 15 ft = 4.572 m.');
    expect(await win.page.title()).toMatch(/^• unsaved/);
    await win.page.keyboard.press('Control+z');
    await expect.poll(() => win.cell('f3', 'span').textContent()).toBe('12 ft');
    expect(await win.page.title()).not.toMatch(/unsaved/);
  });

  test('an unsolved run looks unlooked at: no number, dashed taps, not checked', async () => {
    await win.cell('f2', 'span').click();
    await win.page.keyboard.press('Delete');
    await win.page.getByText('installed length not known').waitFor();
    expect(await win.cell('f5', 'voltsHere').textContent()).toBe('');
    const tapOf = (id: string) => win.page.locator(`[row-id="${id}"] circle`).first();
    expect(await tapOf('f5').getAttribute('class')).toBe('tap tap-unsolved');
    expect(await tapOf('f19').getAttribute('class')).toBe('tap');
    expect(await win.counts()).toContain('not checked: 12 not checked');
  });

  test('refuses what is no length, keeps the old value and says why', async () => {
    await win.cell('f4', 'span').click();
    await win.page.keyboard.type('abc');
    await win.page.keyboard.press('Enter');
    expect(await win.cell('f4', 'span').textContent()).toBe('12 ft');
    await expect
      .poll(() => win.page.getByRole('alert').textContent())
      .toContain('"abc" is not a length');
    await expect
      .poll(() => win.page.getByRole('button', { name: /^Undo/ }).isDisabled())
      .toBe(true);
  });

  test('never loses the first character, also right behind a Tab (twelve cells at full speed)', async () => {
    for (let n = 1; n <= 12; n += 1) {
      await win.cell(`f${n}`, 'span').click();
      await win.page.keyboard.type('13');
      await win.page.keyboard.press('Tab');
      await win.page.keyboard.type('20');
      await win.page.keyboard.press('Enter');
    }
    for (let n = 1; n <= 12; n += 1) {
      expect(await win.cell(`f${n}`, 'span').textContent()).toBe('13 ft');
      expect(await win.cell(`f${n}`, 'installed').textContent()).toBe('20 ft');
    }
  });

  test('moves as a spreadsheet: ends, run edges, over head rows, never round', async () => {
    await win.cell('f2', 'span').click();
    const press = async (key: string) => {
      await win.page.keyboard.press(key);
      return win.focused();
    };
    expect(await press('Home')).toBe('f2 tag');
    expect(await press('ArrowLeft')).toBe('f2 tag');
    expect(await press('End')).toBe('f2 findings');
    expect(await press('ArrowRight')).toBe('f2 findings');
    expect(await press('Control+Home')).toBe('f1 tag');
    expect(await press('ArrowUp')).toBe('f1 tag');
    expect(await press('Control+ArrowDown')).toBe('f18 tag');
    expect(await press('ArrowDown')).toBe('f19 tag');
    expect(await press('ArrowUp')).toBe('f18 tag');
    expect(await press('Control+End')).toBe('f90 findings');
    await win.cell('f88', 'span').click();
    await win.page.keyboard.type('9');
    await win.page.keyboard.press('Tab');
    await win.page.keyboard.type('9');
    await win.page.keyboard.press('Enter');
    expect(await win.focused()).toBe('f89 span');
    await win.page.keyboard.type('zz');
    await win.page.keyboard.press('Escape');
    expect(await win.cell('f89', 'span').textContent()).not.toContain('z');
  });

  test('an open entry is kept by leaving the view and by saving', async () => {
    await win.cell('f5', 'span').click();
    await win.page.keyboard.type('13');
    await win.page.getByRole('tab', { name: /^Runs/ }).click();
    await win.page.getByRole('tab', { name: /^Schedule/ }).click();
    await win.cell('f5', 'span').waitFor();
    expect(await win.cell('f5', 'span').textContent()).toBe('13 ft');
    await win.cell('f5', 'span').click();
    await win.page.keyboard.type('17');
    const leaving = win.page.waitForEvent('download');
    await win.page.keyboard.press('Control+s');
    const saved = join(desk.folder, 'saved.runledger');
    await (await leaving).saveAs(saved);
    expect(await win.cell('f5', 'span').textContent()).toBe('17 ft');
    await expect.poll(() => win.page.title()).not.toMatch(/unsaved/);

    const chooser = win.page.waitForEvent('filechooser');
    await win.page.keyboard.press('Control+o');
    await (await chooser).setFiles(saved);
    await expect.poll(() => win.cell('f5', 'span').textContent()).toBe('17 ft');
  });

  test('locks, inserts, removes; proposals read as proposals', async () => {
    await win.cell('f3', 'span').click();
    await win.page.keyboard.press('Control+l');
    await win.page.keyboard.type('3');
    await win.page.keyboard.press('Enter');
    await expect
      .poll(() => win.page.getByRole('alert').textContent())
      .toContain('Span of A-03 is locked');
    await win.cell('f7', 'tag').click();
    await win.page.keyboard.press('Insert');
    await expect.poll(() => win.focused()).toBe('f91 tag');
    expect(await win.cell('f91', 'address').textContent()).toContain('proposed');
    await win.page.keyboard.press('Control+Delete');
    await expect.poll(() => win.page.locator('[row-id="f91"]').count()).toBe(0);
    expect(await win.focused()).not.toBe(' ');
  });

  test('a finding leads to its cell, whose tooltip says it in full', async () => {
    await win.page.getByRole('button', { name: /6 breach/ }).click();
    await win.page
      .locator('.finding-go', { hasText: 'Voltage drop over the limit, run C1' })
      .click();
    await expect.poll(() => win.focused()).toBe('f65 drop');
    await win.cell('f65', 'drop').hover();
    const tooltip = win.page.locator('.ag-tooltip');
    await tooltip.waitFor();
    expect(await tooltip.textContent()).toContain('limit 3.00 %');
    expect(await tooltip.textContent()).toContain('Basis:');
  });

  test('the right voltage option clears the wrong-voltage stop at once', async () => {
    await win.page.getByRole('tab', { name: /^Types/ }).click();
    await win.cell('RT3', 'printedMinV').click();
    for (const volts of ['347', '480', '312', '528']) {
      await win.page.keyboard.type(volts);
      await win.page.keyboard.press('Tab');
    }
    await expect.poll(() => win.counts()).toContain('stop: 3 stop');
  });

  test('exports a workbook', async () => {
    const leaving = win.page.waitForEvent('download');
    await win.page.getByRole('button', { name: /^Export marked-up/ }).click();
    const download = await leaving;
    expect(download.suggestedFilename()).toBe('Foxglove Roundhouse Museum rev B marked up.xlsx');
    const path = join(desk.folder, 'out.xlsx');
    await download.saveAs(path);
    expect(existsSync(path)).toBe(true);
    // A zip file begins so: PKWARE APPNOTE, local file header signature.
    expect(readFileSync(path).subarray(0, 4).toString('latin1')).toBe('PK\u0003\u0004');
  });
});
