/** axe with the WCAG 2.2 AA tags on the window's states, both themes; and the smallest window. */
import { AxeBuilder } from '@axe-core/playwright';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  type App,
  browserProgram,
  type Desk,
  OpenWindow,
  openDesk,
  startApp,
} from './open-window.ts';

const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];

describe.skipIf(browserProgram === null)('needs Chromium: access', () => {
  let desk: Desk;
  let app: App;
  beforeAll(async () => {
    desk = await openDesk();
  });
  afterAll(async () => {
    await app?.kill();
    await desk?.close();
  });

  // axe walks every cell on screen in fifteen states.
  const walkMs = 240_000;
  test.each(['light', 'dark'] as const)(
    'no violation in any state, %s',
    async (colorScheme) => {
      await app?.kill();
      app = await startApp(desk.fresh());
      const context = await desk.browser.newContext({ colorScheme });
      const win = new OpenWindow(await context.newPage());
      const { page } = win;
      const found: string[] = [];
      const judge = async (state: string) => {
        const { violations } = await new AxeBuilder({ page }).withTags(tags).analyze();
        for (const { id, nodes } of violations) {
          found.push(
            `${state}: ${id} ${nodes
              .slice(0, 3)
              .map((node) => node.html.slice(0, 160))
              .join(' | ')}`,
          );
        }
      };
      await page.goto(app.address);
      await page.getByRole('button', { name: 'I have read this' }).waitFor();
      await judge('caution');
      await page.getByRole('button', { name: 'I have read this' }).click();
      await judge('nothing open');
      await page.getByRole('button', { name: 'Open the demo as a copy' }).click();
      await page.getByRole('button', { name: 'To the schedule' }).waitFor();
      await judge('import report');
      await page.getByRole('button', { name: 'To the schedule' }).click();
      await win.cell('f14', 'drop').click();
      await judge('schedule, a marked cell at hand');
      await page.keyboard.press('Shift+F10');
      await judge('row menu');
      await page.keyboard.press('Escape');
      await page.getByRole('tab', { name: 'All findings' }).click();
      await judge('all findings');
      for (const view of [
        'Runs',
        'Types',
        'Lines',
        'Supplies',
        'Patch',
        'Takeoff',
        'Assumptions',
      ]) {
        await page.getByRole('tab', { name: new RegExp(`^${view}`) }).click();
        await judge(view);
      }
      await page.getByRole('button', { name: 'More' }).click();
      await judge('menu');
      await page.getByRole('menuitem', { name: /^Help/ }).click();
      await judge('help');
      expect(found).toEqual([]);
      expect(win.faults).toEqual([]);
      await context.close();
    },
    walkMs,
  );

  test('fits 1024 × 700: nothing sticks out, no acts overlap', async () => {
    await app?.kill();
    app = await startApp(desk.fresh(), ['--demo']);
    const context = await desk.browser.newContext({ viewport: { width: 1024, height: 700 } });
    const win = new OpenWindow(await context.newPage());
    await win.page.goto(app.address);
    await win.toSchedule();
    const outside = await win.page.evaluate(() => {
      const boxes = [
        ...document.querySelectorAll(
          '.top-bar button, .tabs button, .foot button, .foot-aid, .side',
        ),
      ];
      return boxes
        .filter((box) => {
          const { left, right, bottom } = box.getBoundingClientRect();
          return left < 0 || right > innerWidth || bottom > innerHeight;
        })
        .map((box) => box.textContent);
    });
    expect(outside).toEqual([]);
    const overlaps = await win.page.evaluate(() => {
      const bar = [...document.querySelectorAll('.top-acts > *, .job-name, .product')].map((e) =>
        e.getBoundingClientRect(),
      );
      return bar.some((a, i) =>
        bar.some((b, j) => i < j && a.left < b.right - 1 && b.left < a.right - 1),
      );
    });
    expect(overlaps).toBe(false);
    await context.close();
  });
});
