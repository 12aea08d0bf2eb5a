/** What was answered for one file holds for the next of its shape, over a restart, until it is forgotten. */
import { copyFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type ImportDesk, openImport, secondJob, soon } from './import-steps.ts';
import { browserProgram, type Desk, openDesk } from './open-window.ts';

describe.skipIf(browserProgram === null)('needs Chromium: a shape of file is remembered', () => {
  let desk: Desk;
  let at: ImportDesk;
  const note = 'as you set them for the last file of this shape';
  const again = async (path: string) => {
    await at?.page.context().close();
    await at?.app.kill();
    at = await openImport(desk, path);
  };
  beforeAll(async () => {
    desk = await openDesk();
  });
  afterAll(async () => {
    await at?.app.kill();
    await desk?.close();
  });

  test('the next file of the shape starts with the answers, and says so', async () => {
    await again(secondJob('xlsx'));
    expect(await at.head()).not.toContain(note);
    await at.bring('Location');
    await at.page.getByLabel('Read Location as').selectOption('');
    await soon(() => at.said()).toContain('Location carried along');
    await at
      .question('hidden in')
      .getByRole('button', { name: /^Read hidden rows/ })
      .click();
    await soon(() => at.said()).toContain('Answered');
    const rows = /(\d+) rows read/u.exec((await at.head()) ?? '')?.[1];
    await at.page.waitForTimeout(300);
    const other = join(desk.folder, 'another of its shape.xlsx');
    copyFileSync(secondJob('xlsx'), other);
    await again(other);
    expect(await at.head()).toContain(note);
    expect(await at.head()).toContain(`${rows} rows read`);
    await at.bring('Location');
    expect(await at.page.getByLabel('Read Location as').inputValue()).toBe('');
    await at.unfold();
    expect(await at.question('hidden in').textContent()).toContain('answered');
  });

  test('undo takes an answer out of the memory as well', async () => {
    await at.bring('Area');
    await at.page.getByLabel('Read Area as').selectOption('');
    await soon(() => at.said()).toContain('Area carried along');
    await at.page.locator('.import-head h2').click();
    await at.undo();
    await soon(() => at.head()).toContain(note);
    await at.page.waitForTimeout(300);
    await again(secondJob('xlsx'));
    await at.bring('Area');
    expect(await at.page.getByLabel('Read Area as').inputValue()).toBe('area');
    expect(await at.head()).toContain(note);
  });

  test('read afresh is one step of undo; forgotten, the next file is read as found', async () => {
    await at.page.getByRole('button', { name: 'Read it afresh' }).click();
    await soon(() => at.said()).toContain('Read afresh');
    expect(await at.head()).not.toContain(note);
    await at.undo();
    await soon(() => at.head()).toContain(note);
    await at.page.getByRole('button', { name: 'Forget' }).click();
    await soon(() => at.said()).toContain('Forgotten');
    expect(await at.head()).not.toContain(note);
    await at.page.waitForTimeout(300);
    await again(secondJob('xlsx'));
    expect(await at.head()).not.toContain(note);
    await at.bring('Location');
    expect(await at.page.getByLabel('Read Location as').inputValue()).toBe('location');
    expect(at.win.faults).toEqual([]);
  });
});
