/** Steps of the import view, by what an engineer sees and hears of it. */
import { fileURLToPath } from 'node:url';
import type { Locator, Page } from 'playwright';
import { expect } from 'vitest';
import { type App, type Desk, OpenWindow, startApp } from './open-window.ts';

/** `expect.poll` with the patience two busy cores need. */
export const soon = <T>(look: () => T) => expect.poll(look, { timeout: 20_000, interval: 50 });

export const arrival = (name: string): string =>
  fileURLToPath(new URL(`../files/arrivals/${name}`, import.meta.url));

export const secondJob = (ending: 'xlsx' | 'csv'): string =>
  fileURLToPath(new URL(`../files/second-job/thistlemere-aqueduct.${ending}`, import.meta.url));

/** Zero-based column of letters such as `G`. */
function columnOf(letters: string): number {
  return [...letters].reduce((at, letter) => at * 26 + letter.charCodeAt(0) - 64, 0) - 1;
}

export class ImportDesk {
  readonly page: Page;
  constructor(
    readonly win: OpenWindow,
    readonly app: App,
  ) {
    this.page = win.page;
  }

  /** A cell of the sheet shown, such as `G7`. */
  cell(name: string): Locator {
    const [, letters = '', row = ''] = /^([A-Z]+)(\d+)$/u.exec(name) ?? [];
    return this.page.locator(`.preview-place [row-id="${row}"] [col-id="c${columnOf(letters)}"]`);
  }

  /** What became of a row of the sheet shown. */
  became(row: number): Promise<string | null> {
    return this.page.locator(`.preview-place [row-id="${row}"] [col-id="outcome"]`).textContent();
  }

  async type(name: string, text: string): Promise<void> {
    await this.cell(name).click();
    await this.page.keyboard.type(text);
    await this.page.keyboard.press('Enter');
  }

  async show(sheet: string): Promise<void> {
    const button = this.page.locator('.sheet-entry button', {
      hasText: new RegExp(`^${sheet}( |$)`),
    });
    await button.click();
    await this.page.getByRole('region', { name: `Sheet ${sheet} as in the file` }).waitFor();
  }

  /** Scrolls the sheet until the header of a column stands in the window. */
  async bring(header: string): Promise<void> {
    const choice = this.page.getByLabel(`Read ${header} as`);
    const sheet = this.page.locator('.preview-place .ag-grid-viewport');
    for (let left = 0; left < 4000 && !(await choice.isVisible()); left += 300) {
      await sheet.evaluate((element, to) => {
        element.scrollLeft = to;
      }, left);
      await this.page.waitForTimeout(60);
    }
  }

  reading(cell: string): Locator {
    return this.page
      .locator('.report-place .ag-row')
      .filter({ has: this.page.getByText(cell, { exact: true }) });
  }

  panel(): Locator {
    return this.page.getByRole('region', { name: 'Cell at hand' });
  }

  question(start: string): Locator {
    return this.page.getByRole('group', { name: new RegExp(start, 'u') });
  }

  /** Answered questions fold away; unfolds them. */
  async unfold(): Promise<void> {
    const fold = this.page.locator('.questions details');
    await fold.waitFor();
    await fold.evaluate((element) => element.setAttribute('open', ''));
  }

  said(): Promise<string> {
    return this.win.said();
  }

  head(): Promise<string | null> {
    return this.page.locator('.import-head').textContent();
  }

  /** Presses a button that asks for a file, and chooses one. */
  async choose(button: string, path: string): Promise<void> {
    const [chooser] = await Promise.all([
      this.page.waitForEvent('filechooser'),
      this.page.getByRole('button', { name: button }).click(),
    ]);
    await chooser.setFiles(path);
  }

  async undo(): Promise<void> {
    await this.page.keyboard.press('Control+z');
  }
}

export interface OpenOptions {
  readonly colorScheme?: 'light' | 'dark';
  readonly width?: number;
  readonly height?: number;
  /** A folder of its own, so that nothing is remembered from another test. */
  readonly folder?: string;
}

/** Starts the program on a file and waits for its import view. */
export async function openImport(
  desk: Desk,
  path: string,
  { colorScheme = 'light', width = 1440, height = 900, folder = desk.folder }: OpenOptions = {},
): Promise<ImportDesk> {
  const app = await startApp(folder, [path]);
  const context = await desk.browser.newContext({ colorScheme, viewport: { width, height } });
  const win = new OpenWindow(await context.newPage());
  await win.page.goto(app.address);
  // Read once, the caution is not shown again from the same folder.
  const caution = win.page.getByRole('button', { name: 'I have read this' });
  const sheet = win.page.locator('.preview-place .ag-row').first();
  await sheet.waitFor();
  if (await caution.isVisible()) await caution.click();
  // Work of an earlier window that was ended while unsaved is offered; not here.
  const later = win.page.getByRole('button', { name: 'Later' });
  await win.page.waitForTimeout(150);
  if (await later.isVisible()) await later.click();
  return new ImportDesk(win, app);
}
