/** A file of the host's own that cannot be read for a while: what it holds is not written over. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test, vi } from 'vitest';
import { createMemoryStore } from '../../src-main/services/memory-store.ts';
import type { Reason } from '../../src-shared/contract/requests.ts';
import { SystemFault } from './faulty-fs.ts';

const state = vi.hoisted(() => ({ held: false }));
vi.mock('node:fs/promises', async (original) => {
  const real = await original<typeof import('node:fs/promises')>();
  // As on Windows, while another program holds the file.
  const readFile = async (path: string) => {
    if (state.held) throw new SystemFault('EBUSY');
    return real.readFile(path);
  };
  return { ...real, readFile };
});

test('a choice is refused with a reason, and those kept before are there again later', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'runledger-held-'));
  const path = join(folder, 'memory.json');
  const texts = { 'window.theme': 'dark' };
  writeFileSync(path, JSON.stringify({ format: 'runledger-memory', version: 1, texts }));
  const told: Reason[] = [];
  const memory = createMemoryStore(path, (reason) => told.push(reason));
  state.held = true;
  expect(await memory.all()).toEqual({});
  expect(told).toMatchObject([{ code: 'unreadable', where: path }]);
  expect(await memory.keep('import.a', 'x')).toMatchObject({
    ok: false,
    reason: { code: 'unreadable' },
  });
  state.held = false;
  expect(JSON.parse(readFileSync(path, 'utf8')).texts).toEqual(texts);
  expect(await memory.keep('import.a', 'x')).toMatchObject({ ok: true });
  expect(await memory.all()).toEqual({ ...texts, 'import.a': 'x' });
  rmSync(folder, { recursive: true, force: true });
});
