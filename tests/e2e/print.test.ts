/** The page on paper, as Chromium prints it and poppler reads it back. */
import { spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { findProgram } from '../house/need.ts';
import {
  type App,
  browserProgram,
  type Desk,
  OpenWindow,
  openDesk,
  startApp,
} from './open-window.ts';

const pdftotext = findProgram('pdftotext');
const tags = readFileSync(new URL('../files/demo-rows.csv', import.meta.url), 'utf8')
  .split(/\r?\n/u)
  .flatMap((line) => /\b[A-D]\d?-\d{2}\b/u.exec(line)?.[0] ?? []);

describe.skipIf(browserProgram === null || pdftotext === null)(
  'needs Chromium and poppler: print',
  () => {
    let desk: Desk;
    let app: App;
    let win: OpenWindow;

    beforeAll(async () => {
      desk = await openDesk();
      app = await startApp(desk.folder, ['--demo']);
      const context = await desk.browser.newContext({ viewport: { width: 1440, height: 900 } });
      win = new OpenWindow(await context.newPage());
      // In place of the system's dialog, which waits for a person: it opens, and stays open.
      await win.page.addInitScript(() => {
        window.print = () => {
          window.dispatchEvent(new Event('beforeprint'));
          document.documentElement.dataset.printing = 'yes';
        };
      });
      await win.page.goto(app.address);
      await win.toSchedule();
    });
    afterAll(async () => {
      await app?.kill();
      await desk?.close();
    });

    test('every row and column is on the paper, with the counts and the caution; then the grid scrolls again', async () => {
      const { page } = win;
      const rows = () => page.locator('.ag-row').count();
      const before = await rows();
      await page.keyboard.press('Control+p');
      await page.waitForFunction(() => document.documentElement.dataset.printing === 'yes');
      expect(await rows()).toBeGreaterThan(tags.length);
      const file = join(desk.folder, 'page.pdf');
      // Printing ends with the event that a closed dialog gives.
      writeFileSync(file, await page.pdf({ format: 'A4', landscape: true, printBackground: true }));
      const { stdout } = spawnSync(pdftotext ?? '', ['-layout', file, '-'], { encoding: 'utf8' });
      expect(tags.length).toBeGreaterThan(80);
      expect(tags.filter((tag) => !stdout.includes(tag))).toEqual([]);
      expect(stdout).toContain('Planning aid');
      // The last fixture's volts and its findings stand on the line of its tag: one page wide.
      expect(stdout).toMatch(/A-18.*199\.98.*drop/u);
      await page.waitForFunction(
        (most) => document.querySelectorAll('.ag-row').length <= most,
        before,
      );
      expect(win.faults).toEqual([]);
    });
  },
);
