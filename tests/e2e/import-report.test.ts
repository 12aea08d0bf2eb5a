/** The import report: every reading shown, each accepted or changed, nothing of later work lost. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type ImportDesk, openImport, secondJob, soon } from './import-steps.ts';
import { browserProgram, type Desk, openDesk } from './open-window.ts';

describe.skipIf(browserProgram === null)('needs Chromium: the import report', () => {
  let desk: Desk;
  let at: ImportDesk;
  beforeAll(async () => {
    desk = await openDesk();
    at = await openImport(desk, secondJob('xlsx'));
  });
  afterAll(async () => {
    await at?.app.kill();
    await desk?.close();
  });

  const filter = (name: string) => at.page.getByRole('checkbox', { name });

  test('counts every row, says what became of each, and shows every cell that was not plain', async () => {
    // tests/files/second-job: 68 fixtures, 9 rows that are none.
    expect(await at.head()).toContain('68 rows read + 9 skipped = 77 source rows');
    await filter('sure').check();
    await at.page.getByLabel('Readings shown, open or accepted').selectOption('all');
    await soon(() => at.reading('Schedule!Q10').textContent()).toContain('7,5 m7.5 m');
    await at.page.getByLabel('Rows shown').selectOption('skipped');
    const skipped = at.page.locator('.preview-place .outcome-skipped');
    await soon(() => skipped.count()).toBe(9);
    expect(await skipped.allTextContents()).toContain('skippedstruck through');
    await at.page.getByLabel('Rows shown').selectOption('all');
  });

  test('another text is read instead, edits made meanwhile stay, undo takes it back', async () => {
    const { page, win } = at;
    await page.getByRole('button', { name: 'To the schedule' }).click();
    await win.cell('f9', 'span').waitFor();
    const before = await win.cell('f2', 'span').textContent();
    await win.cell('f9', 'span').click();
    await page.keyboard.type('3 m');
    await page.keyboard.press('Enter');
    await page.getByRole('tab', { name: 'Import report' }).click();
    await at.reading('Schedule!Q9').locator('[col-id="raw"]').click();
    await page.keyboard.type('8,25');
    await page.keyboard.press('Enter');
    await soon(() => at.said()).toContain('Schedule!Q9 read as 8,25: 1 fixture changed');
    await soon(() => at.reading('Schedule!Q9').textContent()).toContain('8.25 m');
    await page.getByRole('tab', { name: /^Schedule/ }).click();
    await win.cell('f9', 'span').waitFor();
    expect(await win.cell('f9', 'span').textContent()).toBe('3 m');
    expect(await win.cell('f2', 'span').textContent()).toBe('8.25 m');
    await at.undo();
    await soon(() => win.cell('f2', 'span').textContent()).toBe(before);
    expect(await win.cell('f9', 'span').textContent()).toBe('3 m');
    await page.getByRole('tab', { name: 'Import report' }).click();
    // The sheet comes back with the cell at hand in sight.
    await page.locator('.cell-marked').waitFor();
  });

  test('a column is read as another, carried along, and back by undo; one that cannot be left out stays', async () => {
    const { page } = at;
    const location = page.getByLabel('Read Location as');
    await at.bring('Location');
    await location.selectOption('reach');
    await soon(() => at.said()).toContain('Location read as Reach: 68 fixtures changed');
    await location.selectOption('');
    await soon(() => at.said()).toContain('Location carried along');
    expect(await location.inputValue()).toBe('');
    await at.page.locator('.import-head h2').click();
    await at.undo();
    await at.undo();
    await soon(() => location.inputValue()).toBe('location');
    const tag = page.getByLabel('Read Fixture tag as');
    await at.bring('Fixture tag');
    await tag.selectOption('');
    await soon(() => page.getByRole('alert').textContent()).toContain(
      'Everything stays read as it was',
    );
    expect(await tag.inputValue()).toBe('tag');
    expect(at.win.faults).toEqual([]);
  });

  test('arrow keys pass over the choices of a column; Enter takes one, Esc none', async () => {
    const { page } = at;
    const location = page.getByLabel('Read Location as');
    await at.bring('Location');
    await location.focus();
    const before = await at.head();
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('ArrowDown');
    expect(await location.inputValue()).not.toBe('location');
    await page.keyboard.press('Escape');
    expect(await location.inputValue()).toBe('location');
    expect(await at.head()).toBe(before);
    await location.focus();
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Enter');
    await soon(() => at.said()).toContain('Location read as');
    await page.locator('.import-head h2').click();
    await at.undo();
    await soon(() => location.inputValue()).toBe('location');
  });

  test('accepted by Enter, Space and by kind, counted, opened again, each one step of undo', async () => {
    const { page } = at;
    await page.getByLabel('Readings shown, open or accepted').selectOption('open');
    await filter('sure').uncheck();
    const open = async () =>
      Number(/^\d+/u.exec((await page.locator('.report-head h3').textContent()) ?? '')?.[0]);
    const before = await open();
    expect(before).toBeGreaterThan(3);
    const rows = page.locator('.report-place .ag-row');
    await rows.first().locator('[col-id="value"]').click();
    await page.keyboard.press('Enter');
    await soon(open).toBe(before - 1);
    await page.keyboard.press('Space');
    await soon(open).toBe(before - 2);
    await at.undo();
    await soon(open).toBe(before - 1);
    await at.undo();
    await soon(open).toBe(before);
    const kind = page.getByRole('button', { name: /^Accept all \d+ like this$/ });
    for (let row = 0; row < 12 && !(await kind.isVisible()); row += 1) {
      await page.keyboard.press('ArrowDown');
    }
    const many = Number(/\d+/u.exec((await kind.textContent()) ?? '')?.[0]);
    expect(many).toBeGreaterThan(1);
    await kind.click();
    await soon(open).toBe(before - many);
    await page.getByLabel('Readings shown, open or accepted').selectOption('accepted');
    await rows.first().locator('[col-id="value"]').click();
    await page.getByRole('button', { name: 'Open again' }).click();
    await soon(open).toBe(before - many + 1);
    await at.undo();
    await at.undo();
    await soon(open).toBe(before);
    expect(at.win.faults).toEqual([]);
  });
});
