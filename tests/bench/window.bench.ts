/** The window in Chromium at 10,000 rows: opening, and from key to painted solved cells. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  type App,
  browserProgram,
  type Desk,
  OpenWindow,
  openDesk,
  startApp,
} from '../e2e/open-window.ts';
import { makeWorkbook } from './make-workbook.ts';
import { median, percentile, print } from './print.ts';

interface Watched {
  painted?: Promise<number>;
}

/** Page side: starts to measure from the keydown of Enter to the frame after the cell's text has changed. */
function watchKeyToPaint(cellSelector: string): void {
  const text = () => document.querySelector(cellSelector)?.textContent;
  const before = text();
  let pressed = 0;
  const onKey = (event: KeyboardEvent) => {
    if (event.key === 'Enter') pressed = performance.now();
  };
  document.addEventListener('keydown', onKey, true);
  (window as Watched).painted = new Promise((resolve) => {
    const observer = new MutationObserver(() => {
      if (pressed === 0 || text() === before) return;
      observer.disconnect();
      document.removeEventListener('keydown', onKey, true);
      // The frame that paints the change has ended when a message posted in it arrives.
      requestAnimationFrame(() => {
        const channel = new MessageChannel();
        channel.port1.onmessage = () => resolve(performance.now() - pressed);
        channel.port2.postMessage(null);
      });
    });
    observer.observe(document.body, { subtree: true, childList: true, characterData: true });
  });
}

describe.skipIf(browserProgram === null)('needs Chromium: the window at 10,000 rows', () => {
  let desk: Desk;
  let app: App;

  beforeAll(async () => {
    desk = await openDesk();
    const file = join(desk.folder, 'bench.xlsx');
    writeFileSync(file, makeWorkbook(10_000));
    app = await startApp(desk.folder, [file]);
  });
  afterAll(async () => {
    await app?.kill();
    await desk?.close();
  });

  it('opens and takes edits', async () => {
    const context = await desk.browser.newContext({ viewport: { width: 1440, height: 900 } });
    const win = new OpenWindow(await context.newPage());
    win.page.setDefaultTimeout(60_000);
    const start = performance.now();
    await win.page.goto(app.address);
    await win.page.getByRole('button', { name: 'I have read this' }).click();
    const toSchedule = win.page.getByRole('button', { name: 'To the schedule' });
    await toSchedule.waitFor();
    const opened = performance.now();
    await toSchedule.click();
    await win.cell('f3', 'cumulativeCurrent').waitFor();
    print('window: open 10,000 rows, address to report', `${(opened - start).toFixed(0)} ms`);
    print('window: report to first rows', `${(performance.now() - opened).toFixed(0)} ms`);

    const times: number[] = [];
    for (let round = 0; round < 30; round += 1) {
      const row = `f${3 + (round % 5)}`;
      await win.cell(row, 'load').click();
      const before = await win.cell(row, 'cumulativeCurrent').textContent();
      await win.page.evaluate(watchKeyToPaint, `[row-id="${row}"] [col-id="cumulativeCurrent"]`);
      await win.page.keyboard.type(String(30 + round * 3));
      await win.page.keyboard.press('Enter');
      times.push(await win.page.evaluate(() => (window as Watched).painted ?? Number.NaN));
      expect(await win.cell(row, 'cumulativeCurrent').textContent()).not.toBe(before);
    }
    print(
      'window: key to painted solved cells, 10,000 rows',
      `median ${median(times).toFixed(0)} ms, p95 ${percentile(times, 0.95).toFixed(0)} ms`,
    );
    expect(win.faults).toEqual([]);
  });
});
