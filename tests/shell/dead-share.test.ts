/** A recent file on a share that no longer answers: a look at it never ends. Nothing waits for it. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test, vi } from 'vitest';
import { openShell } from './open-shell.ts';

vi.mock('electron', () => import('./electron-stub.ts'));
vi.mock('node:fs/promises', async (original) => {
  const real = await original<typeof import('node:fs/promises')>();
  const stat = (path: string) =>
    path.includes('dead-share') ? new Promise(() => undefined) : real.stat(path);
  return { ...real, stat };
});

test('the window opens, starts and opens a file all the same', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'runledger-share-'));
  const paths = [join(folder, 'dead-share', 'job.runledger')];
  const list = { format: 'runledger-recent', version: 1, paths };
  writeFileSync(join(folder, 'recent.json'), JSON.stringify(list));
  writeFileSync(join(folder, 'schedule.csv'), 'Tag,Load\nA-01,87\n');
  const shell = await openShell(['schedule.csv'], { stateFolder: folder });
  const start = await shell.ask('app.start', {});
  const file = start.ok ? start.value.launchFile : null;
  expect(file?.name).toBe('schedule.csv');
  expect(await shell.ask('file.open', { fileId: file?.fileId ?? '' })).toMatchObject({
    ok: true,
    value: { kind: 'schedule' },
  });
  shell.remove();
  rmSync(folder, { recursive: true, force: true });
}, 5_000);
