/** A second file for the same fixtures, a contradiction settled, and a revised copy of a file. */
import { copyFileSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { arrival, type ImportDesk, openImport, secondJob, soon } from './import-steps.ts';
import { browserProgram, type Desk, openDesk } from './open-window.ts';

describe.skipIf(browserProgram === null)('needs Chromium: two files of one job', () => {
  let desk: Desk;
  let at: ImportDesk;
  beforeAll(async () => {
    desk = await openDesk();
    at = await openImport(desk, arrival('tarnmoor-patch.xlsx'));
  });
  afterAll(async () => {
    await at?.app.kill();
    await desk?.close();
  });

  // tests/files/arrivals/tarnmoor-merged.truth.json: 45 + 1 fixtures, three contradictions.
  test('the second file is read with the first; both files’ sheets show; one step of undo', async () => {
    await at.choose('Add a file for the same fixtures', arrival('tarnmoor-install.xlsx'));
    await soon(() => at.said()).toContain('Add tarnmoor-install.xlsx: 1 fixture more');
    expect(await at.head()).toContain(
      'How tarnmoor-patch.xlsx and tarnmoor-install.xlsx were read',
    );
    expect(await at.head()).toContain('46 fixtures');
    expect(await at.page.locator('.sheet-entry').allTextContents()).toEqual([
      'Patch 45 rows',
      'Modes',
      'Install 43 rows',
    ]);
    await at.undo();
    await soon(() => at.head()).toContain('How tarnmoor-patch.xlsx was read');
    expect(await at.page.locator('.sheet-entry').count()).toBe(2);
    await at.page.keyboard.press('Control+y');
    await soon(() => at.head()).toContain('46 fixtures');
  });

  test('tags that are alike are asked for; the universe base too', async () => {
    const tags = at.question('by letters and number only');
    await tags.getByRole('button', { name: /^No:/ }).click();
    await soon(() => at.head()).toContain('88 fixtures');
    await at.undo();
    await soon(() => at.head()).toContain('46 fixtures');
    const base = at.question('A universe 0 occurs');
    await base.getByRole('button', { name: /^From 1:/ }).click();
    await at.unfold();
    await soon(() => base.textContent()).toContain('answered');
    await at.undo();
    await soon(() => base.textContent()).toContain('holds until answered');
  });

  test('a contradiction stands side by side and is settled by one button', async () => {
    const { page } = at;
    await at.reading('Patch!B8').click();
    const both = at.panel().getByRole('group', { name: /Which one holds/ });
    expect(await both.getByRole('button').allTextContents()).toEqual([
      'TK1Patch!B8',
      'TK2[tarnmoor-install.xlsx]Install!B12',
    ]);
    await both.getByRole('button', { name: /^TK2/ }).click();
    await soon(() => at.said()).toContain('Install!B12 taken: TK2: 1 fixture changed');
    await soon(() => at.cell('B8').textContent()).toContain('left blank');
    await page.getByRole('tab', { name: /^Schedule/ }).click();
    await soon(() => at.win.cell('f7', 'type').textContent()).toContain('TK2');
    await at.undo();
    await soon(() => at.win.cell('f7', 'type').textContent()).not.toContain('TK2');
    await page.getByRole('tab', { name: 'Import report' }).click();
  });

  test('of two source files the one a copy revises is asked for, and Cancel changes nothing', async () => {
    const copy = join(desk.folder, 'install rev B.xlsx');
    copyFileSync(arrival('tarnmoor-install.xlsx'), copy);
    await at.choose('Read a revised copy', copy);
    const dialog = at.page.getByRole('dialog', { name: 'Which file does it revise?' });
    await dialog.getByLabel('tarnmoor-install.xlsx').check();
    await dialog.getByRole('button', { name: 'Compare' }).click();
    await at.page.getByText('Nothing is different.').waitFor();
    await at.page.getByRole('button', { name: 'Leave', exact: true }).click();
    expect(await at.head()).toContain('46 fixtures');
    expect(at.win.faults).toEqual([]);
  });
});

describe.skipIf(browserProgram === null)('needs Chromium: a revised copy', () => {
  let desk: Desk;
  let at: ImportDesk;
  const edited = (text: string) =>
    text
      .split('\n')
      // A-02 has another span, A-04 is gone; A-05 is fed from it still, as in a hasty revision.
      .map((line) => (line.includes(',A-02,AS1') ? line.replace('7,5', '9,25') : line))
      .filter((line) => !line.includes(',A-04,AS1'))
      .join('\n');
  beforeAll(async () => {
    desk = await openDesk();
    at = await openImport(desk, secondJob('csv'));
  });
  afterAll(async () => {
    await at?.app.kill();
    await desk?.close();
  });

  test('differences are listed before anything changes; taken over as one step, edits kept', async () => {
    const { page, win } = at;
    const before = readFileSync(secondJob('csv'), 'utf8');
    const copy = join(desk.folder, 'thistlemere-aqueduct.csv');
    writeFileSync(copy, edited(before));
    expect(edited(before)).not.toBe(before);
    await page.getByRole('button', { name: 'To the schedule' }).click();
    await win.cell('f6', 'span').click();
    await page.keyboard.type('3 m');
    await page.keyboard.press('Enter');
    await page.getByRole('tab', { name: 'Import report' }).click();
    const fixtures = /(\d+) fixtures/u.exec((await at.head()) ?? '')?.[1];
    await at.choose('Read a revised copy', copy);
    const dialog = page.getByRole('dialog', {
      name: 'What is different in thistlemere-aqueduct.csv',
    });
    await dialog.waitFor();
    const list = await dialog.textContent();
    expect(list).toContain('1 removed');
    expect(list).toMatch(/A-04\s*removed/u);
    expect(list).toMatch(/A-02\s*changedSpan7.5 m9.25 m/u);
    await dialog.getByRole('button', { name: 'Leave', exact: true }).click();
    expect(await at.head()).toContain(`${fixtures} fixtures`);
    await at.choose('Read a revised copy', copy);
    await page.getByRole('button', { name: 'Take over' }).click();
    await soon(() => at.said()).toContain('Revised copy thistlemere-aqueduct.csv: 1 fixture less');
    expect(await at.head()).toContain(`${Number(fixtures) - 1} fixtures`);
    await page.getByRole('tab', { name: /^Schedule/ }).click();
    await win.cell('f6', 'span').waitFor();
    expect(await win.cell('f6', 'span').textContent()).toBe('3 m');
    expect(await win.cell('f2', 'span').textContent()).toBe('9.25 m');
    await at.undo();
    await soon(() => win.cell('f2', 'span').textContent()).toBe('7.5 m');
    expect(await win.cell('f6', 'span').textContent()).toBe('3 m');
    expect(win.faults).toEqual([]);
  });
});
