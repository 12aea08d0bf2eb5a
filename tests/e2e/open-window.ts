/** The window as a user has it: `npm start` with its own state folder, and a Chromium on it. */
import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Browser, chromium, type Locator, type Page } from 'playwright';
import { findProgram } from '../house/need.ts';

const system = ['chromium', 'chromium-browser', 'google-chrome'].map(findProgram).find(Boolean);
const own = existsSync(chromium.executablePath()) ? chromium.executablePath() : null;
/** A Chromium to drive, or null: then the tests that need it are skipped by name. */
export const browserProgram: string | null = system ?? own;

const startScript = fileURLToPath(new URL('../../src-main/start/start.mjs', import.meta.url));

export interface App {
  readonly address: string;
  /** Ends at once, as a crash would. */
  kill(): Promise<void>;
}

async function until<T>(what: string, ms: number, look: () => T | null): Promise<T> {
  for (const end = Date.now() + ms; Date.now() < end; ) {
    const found = look();
    if (found !== null) return found;
    await new Promise((done) => setTimeout(done, 50));
  }
  throw new Error(`${what} did not come within ${ms} ms`);
}

function addressIn(portFile: string): string | null {
  if (!existsSync(portFile)) return null;
  const told: unknown = JSON.parse(readFileSync(portFile, 'utf8'));
  return typeof told === 'object' && told !== null && 'address' in told
    ? String(told.address)
    : null;
}

/** Starts the program; `folder` holds its state and outlives it. */
export async function startApp(folder: string, words: readonly string[] = []): Promise<App> {
  const portFile = join(folder, `port-${Date.now()}.json`);
  const child: ChildProcess = spawn(
    process.execPath,
    [startScript, '--no-open', '--port-file', portFile, ...words],
    { env: { ...process.env, XDG_STATE_HOME: folder, HOME: folder }, stdio: 'ignore' },
  );
  // A test run that is broken off leaves no program behind.
  const end = () => child.kill('SIGKILL');
  process.once('exit', end);
  const ended = new Promise<void>((done) => child.once('exit', () => done()));
  const address = await until('the address', 90_000, () => {
    if (child.exitCode !== null) throw new Error(`the program ended with ${child.exitCode}`);
    return addressIn(portFile);
  });
  return {
    address,
    kill: async () => {
      process.off('exit', end);
      end();
      await ended;
    },
  };
}

/** A page on the app with the faults it reported. */
export class OpenWindow {
  readonly faults: string[] = [];
  constructor(readonly page: Page) {
    page.setDefaultTimeout(10_000);
    page.on('pageerror', (fault) => this.faults.push(fault.message));
    page.on('console', (message) => {
      if (message.type() === 'error') this.faults.push(message.text());
    });
  }

  /** The first caution and, when a schedule was opened, its import report are answered. */
  async toSchedule(): Promise<void> {
    await this.page.getByRole('button', { name: 'I have read this' }).click();
    await this.page.getByRole('button', { name: 'To the schedule' }).click();
    await this.page.locator('.ag-row').first().waitFor();
  }

  /** A fresh copy of the demo in the same window, whatever was open before. */
  async demoAgain(): Promise<void> {
    const { page } = this;
    await page.getByRole('button', { name: 'More' }).click();
    await page.getByRole('menuitem', { name: 'Open the demo as a copy' }).click();
    const next = page.getByRole('button', { name: 'To the schedule' });
    const drop = page.getByRole('button', { name: 'Do not save' });
    await next.or(drop).first().waitFor();
    if (await drop.isVisible()) await drop.click();
    await next.click();
    await this.cell('f1', 'drop').waitFor();
  }

  cell(tagOrId: string, column: string): Locator {
    return this.page.locator(`[row-id="${tagOrId}"] [col-id="${column}"]`).first();
  }

  /** Row id and column of the cell under hand. */
  focused(): Promise<string> {
    return this.page.evaluate(() => {
      const cell = document.activeElement?.closest('[col-id]');
      const row = cell?.closest('[row-id]');
      return `${row?.getAttribute('row-id') ?? ''} ${cell?.getAttribute('col-id') ?? ''}`;
    });
  }

  /** The line under the tabs: what was understood or refused. */
  async said(): Promise<string> {
    const words = await this.page.locator('.reading-line .said').textContent();
    return words ?? '';
  }

  async counts(): Promise<string> {
    const words = await this.page.locator('.foot-counts').textContent();
    return (words ?? '').replace(/\s+/gu, ' ');
  }
}

export interface Desk {
  readonly folder: string;
  readonly browser: Browser;
  /** Another state folder: a user who has never started the program. */
  fresh(): string;
  close(): Promise<void>;
}

/** A browser and a folder for one file of tests. */
export async function openDesk(): Promise<Desk> {
  if (browserProgram === null) throw new Error('no Chromium');
  const folder = mkdtempSync(join(tmpdir(), 'runledger-window-'));
  const browser = await chromium.launch({ executablePath: browserProgram, args: ['--no-sandbox'] });
  return {
    folder,
    browser,
    fresh: () => mkdtempSync(join(folder, 'fresh-')),
    close: async () => {
      await browser.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
