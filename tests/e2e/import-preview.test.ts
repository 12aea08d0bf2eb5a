/** The source sheets in the preview: typing in their cells, questions, sheets, header rows, offers. */
import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { arrival, type ImportDesk, openImport, soon } from './import-steps.ts';
import { browserProgram, type Desk, openDesk } from './open-window.ts';

interface Truth {
  readonly rowsRead: number;
  readonly rowsSkipped: readonly { readonly sheet: string; readonly reason: string }[];
}

const truthOf = (name: string): Truth =>
  JSON.parse(readFileSync(arrival(`${name}.truth.json`), 'utf8'));

/** What a careful engineer reads from it: tests/files/arrivals, made from the source data of the maker. */
const crown = truthOf('meridew-tower-crown');

describe.skipIf(browserProgram === null)('needs Chromium: four floors in the preview', () => {
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

  test('several sheets are one schedule; counts are those of the truth', async () => {
    const { rowsRead, rowsSkipped } = crown;
    expect(await at.head()).toContain(
      `${rowsRead} rows read + ${rowsSkipped.length} skipped = ${rowsRead + rowsSkipped.length} source rows`,
    );
    for (const sheet of ['L41', 'L42', 'L43', 'L44']) {
      await at.show(sheet);
      expect(await at.page.getByLabel(`Sheet ${sheet} is part of the schedule`).isChecked()).toBe(
        true,
      );
    }
    expect(await at.page.getByLabel('Sheet Index is part of the schedule').isChecked()).toBe(false);
  });

  test('a sheet is left out and taken back; the last one cannot be', async () => {
    const box = at.page.getByLabel('Sheet L44 is part of the schedule');
    await box.uncheck();
    await soon(() => at.said()).toContain('Sheet L44 not read: 26 fixtures less');
    await at.show('L44');
    expect(await at.page.getByText(/^Not part of the schedule/).isVisible()).toBe(true);
    await box.check();
    await soon(() => at.said()).toContain('Sheet L44 read: 26 fixtures more');
    await at.undo();
    await at.undo();
    await soon(() => at.head()).toContain(`${crown.rowsRead} rows read`);
    expect(await box.isChecked()).toBe(true);
  });

  test('typing in a cell shows its effect at once: row, report, fixtures, findings', async () => {
    await at.show('L41');
    const counts = await at.win.counts();
    await at.type('B6', 'SUBTOTAL');
    await soon(() => at.became(6)).toContain('subtotal');
    expect(await at.said()).toContain('L41!B6 read as SUBTOTAL: 1 fixture less');
    expect(await at.win.counts()).not.toBe(counts);
    expect(await at.head()).toContain(`${crown.rowsRead - 1} rows read`);
    await at.undo();
    await soon(() => at.became(6)).toContain('L41-02');
    expect(await at.win.counts()).toBe(counts);
  });

  test('Delete leaves a cell blank, Esc restores an edit, Ctrl+Backspace takes an answer back', async () => {
    const { page } = at;
    const cell = at.cell('F7');
    const before = await cell.textContent();
    await cell.click();
    await page.keyboard.press('Delete');
    await soon(() => cell.textContent()).toContain('left blank');
    expect(await cell.textContent()).toContain('answered');
    expect(await at.said()).toContain('L41!F7 left blank: 1 fixture changed');
    await page.keyboard.press('F2');
    await page.keyboard.type('99 ft');
    await page.keyboard.press('Escape');
    await soon(() => cell.textContent()).toContain('left blank');
    await page.keyboard.press('Control+Backspace');
    await soon(() => cell.textContent()).toBe(before);
    expect(await at.said()).toContain('L41!F7 as in the file: 1 fixture changed');
  });

  test('the file’s own text typed again takes the answer back', async () => {
    await at.type('F8', '9 ft');
    await soon(() => at.cell('F8').textContent()).toContain('9 ft8.5');
    await at.type('F8', '8.5');
    await soon(() => at.cell('F8').textContent()).toBe('8.5');
  });

  test('hidden rows are asked for; the answer holds, is taken back, and undone', async () => {
    const question = at.question('rows are hidden');
    expect(await question.textContent()).toContain('holds until answered');
    await question.getByRole('button', { name: 'Read hidden rows like the others' }).click();
    await soon(() => at.said()).toContain('5 fixtures more');
    await at.unfold();
    expect(await question.textContent()).toContain('answered');
    await at.show('L41');
    await soon(() => at.became(25)).not.toContain('hidden');
    await question.getByRole('button', { name: 'Take back' }).click();
    await soon(() => at.said()).toContain('5 fixtures less');
    await at.undo();
    await at.undo();
    await soon(() => question.textContent()).toContain('holds until answered');
    await question.getByRole('button', { name: /^Leave hidden rows out/ }).click();
    await at.unfold();
    await soon(() => question.textContent()).not.toContain('holds until answered');
    await at.undo();
  });

  // Row 15 of L42 repeats the header (truth file): taken as the header, ten fixtures stand above it.
  test('the header is taken from another row, back by undo; a row without one is refused', async () => {
    await at.show('L42');
    const row = at.page.getByLabel('Header in row');
    await row.selectOption('15');
    await soon(() => at.said()).toContain('Header of L42 in row 15: 10 fixtures less');
    expect(await at.became(5)).toContain('above the header');
    await at.page.locator('.import-head h2').click();
    await at.undo();
    await soon(() => row.inputValue()).toBe('4');
    await row.selectOption('1');
    await soon(() => at.page.getByRole('alert').textContent()).toContain(
      'Row 1 of L42 is no header that names a column of tags; it stays in row 4',
    );
    await soon(() => row.inputValue()).toBe('4');
  });

  test('a sheet that holds no schedule is refused as one, and says why', async () => {
    const box = at.page.getByLabel('Sheet Index is part of the schedule');
    await box.click();
    await soon(() => at.page.getByRole('alert').textContent()).toContain(
      'Index has no header row that names a column of tags',
    );
    expect(await box.isChecked()).toBe(false);
    expect(at.win.faults).toEqual([]);
  });
});

describe.skipIf(browserProgram === null)('needs Chromium: answers in comments', () => {
  let desk: Desk;
  let at: ImportDesk;
  beforeAll(async () => {
    desk = await openDesk();
    at = await openImport(desk, arrival('selkie-forecourt-rev-c.xlsx'));
  });
  afterAll(async () => {
    await at?.app.kill();
    await desk?.close();
  });

  // Row 15 is struck through (truth file, rowsSkipped).
  test('a cell of a row that was skipped never sounds as if it was read', async () => {
    await at.cell('A15').click();
    await soon(() => at.panel().textContent()).toContain('Not read: its row became no fixture.');
    await at.cell('A17').click();
    await soon(() => at.panel().textContent()).not.toContain('Not read');
  });

  // The comment on the mode of S-10 says "now 9-ch mode" (truth file, cell N17).
  test('what a comment says is offered and taken by one button, and by Alt+Enter', async () => {
    const { page } = at;
    await at.cell('A17').click();
    for (let step = 0; step < 13; step += 1) await page.keyboard.press('ArrowRight');
    const take = at.panel().getByRole('button', { name: /^Take / });
    await take.waitFor();
    await take.click();
    await soon(() => at.said()).toContain('fixture');
    expect(await at.cell('N17').textContent()).toMatch(/answered/u);
    await at.cell('N17').click();
    await at.undo();
    await soon(() => at.cell('N17').textContent()).not.toMatch(/answered/u);
    await page.keyboard.press('Alt+Enter');
    await soon(() => at.cell('N17').textContent()).toMatch(/answered/u);
    expect(at.win.faults).toEqual([]);
  });

  test('a text typed into the panel is read, and the cell and its reading find each other', async () => {
    const { page } = at;
    await page.getByLabel('Read it as').fill('5ch');
    await at.panel().getByRole('button', { name: 'Read', exact: true }).click();
    await soon(() => at.said()).toContain("'Rev C'!N17");
    await at.reading("'Rev C'!F10").click();
    await at.panel().getByRole('button', { name: 'To the cell' }).click();
    await soon(() => at.win.focused()).toBe('10 c5');
    await page.keyboard.press('F6');
    await soon(() => at.win.focused()).toContain('F10 span');
  });
});

describe.skipIf(browserProgram === null)('needs Chromium: a schedule with its legend', () => {
  let desk: Desk;
  let at: ImportDesk;
  beforeAll(async () => {
    desk = await openDesk();
    at = await openImport(desk, arrival('osier-footbridge.xlsx'));
  });
  afterAll(async () => {
    await at?.app.kill();
    await desk?.close();
  });

  // Truth file: the watts in Legend!D10 say "tbc" and must not be filled.
  test('a cell of the legend is answered in its own sheet and changes its type', async () => {
    await at.show('Legend');
    expect(await at.cell('D10').textContent()).toContain('tbc');
    const counts = await at.win.counts();
    await at.type('D10', '24 W');
    await soon(() => at.said()).toContain('Legend!D10 read as 24 W: 1 type changed');
    expect(await at.win.counts()).not.toBe(counts);
    await at.undo();
    await soon(() => at.win.counts()).toBe(counts);
  });

  test('a quantity row says how many fixtures it became, with their tags', async () => {
    await at.show('Schedule');
    expect(await at.became(13)).toContain('6 fixtures, C-01 to C-06');
    await at.type('C8', '10');
    await soon(() => at.said()).toContain('Schedule!C8 read as 10: 4 fixtures less');
    await soon(() => at.became(8)).toContain('10 fixtures');
    await at.undo();
    await soon(() => at.became(8)).toContain('14 fixtures');
    expect(at.win.faults).toEqual([]);
  });
});
