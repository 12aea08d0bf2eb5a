/** A browser that cannot be started is told of in a sentence; the host serves on. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { expect, test } from 'vitest';
import { openBrowser } from '../../src-main/loopback/open-browser.ts';

const linux = (path: string) => ({
  platform: 'linux' as const,
  env: { DISPLAY: ':0', PATH: [path].join(delimiter) },
  isRoot: false,
  exists: () => true,
});

test.skipIf(process.platform === 'win32').each([
  ['is gone meanwhile', 'none'],
  ['is for another kind of machine, which Node throws at once', 'a-file'],
])('one that %s', async (_name, within) => {
  const folder = mkdtempSync(join(tmpdir(), 'runledger-browser-'));
  writeFileSync(join(folder, 'a-file'), '');
  const said: string[] = [];
  openBrowser('http://127.0.0.1:1/', (text) => said.push(text), linux(join(folder, within)));
  await expect.poll(() => said).toEqual([expect.stringMatching(/chromium did not start\. Open/)]);
  rmSync(folder, { recursive: true, force: true });
});
