/** `npm run dev` on the loopback host: a source is changed, and the page in the browser with it. */
import { type ChildProcess, spawn } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright';
import { afterAll, describe, expect, test } from 'vitest';
import { browserProgram } from '../e2e/open-window.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'runledger-dev-'));
const copy = join(folder, 'a copy');
let child: ChildProcess | null = null;
afterAll(async () => {
  if (child?.exitCode === null) {
    const ended = new Promise((resolve) => child?.once('exit', resolve));
    child.kill('SIGTERM');
    await ended;
  }
  rmSync(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
});

describe.skipIf(browserProgram === null)('needs Chromium: development', () => {
  test('a changed source shows in the open page, without a fault of the page’s policy', async () => {
    mkdirSync(copy);
    for (const name of readdirSync(root)) {
      if (/^(src-|electron\.vite|package|tsconfig)/.test(name)) {
        cpSync(join(root, name), join(copy, name), { recursive: true });
      }
    }
    symlinkSync(join(root, 'node_modules'), join(copy, 'node_modules'), 'junction');
    const portFile = join(folder, 'port.json');
    const words = ['--no-open', '--port-file', portFile];
    child = spawn(process.execPath, [join(copy, 'src-main/start/dev.mjs'), ...words], {
      env: { ...process.env, RUNLEDGER_STATE_DIR: join(folder, 'state') },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    let said = '';
    for (const stream of [child.stdout, child.stderr]) {
      stream?.on('data', (chunk: Buffer) => {
        said += chunk.toString();
      });
    }
    await expect.poll(() => existsSync(portFile), { timeout: 30_000 }).toBe(true);
    expect(said).toMatch(/Development in the browser/);
    const { address } = JSON.parse(readFileSync(portFile, 'utf8'));

    const browser = await chromium.launch({
      executablePath: browserProgram ?? '',
      args: ['--no-sandbox'],
    });
    const page = await browser.newPage();
    const faults: string[] = [];
    page.on('pageerror', (fault) => faults.push(fault.message));
    page.on('console', (message) => {
      if (/policy/i.test(message.text())) faults.push(message.text());
    });
    await page.goto(address);
    await page.getByRole('heading', { name: 'Open a fixture schedule' }).waitFor();
    const file = join(copy, 'src-renderer/views/empty-state.tsx');
    const text = readFileSync(file, 'utf8');
    writeFileSync(file, text.replace('Open a fixture schedule', 'Changed while it ran'));
    await page.getByRole('heading', { name: 'Changed while it ran' }).waitFor();
    expect(faults).toEqual([]);
    await browser.close();
  });
});
