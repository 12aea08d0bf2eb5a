import { spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { packProject } from '../../src-main/projects/pack-project.ts';
import { createRecoveryStore } from '../../src-main/projects/recovery-store.ts';
import { saveFile } from '../../src-main/projects/save-file.ts';
import { unpackProject } from '../../src-main/projects/unpack-project.ts';
import { blankProject } from '../../src-shared/document/blank.ts';
import { writeProject } from '../../src-shared/format/project-json.ts';
import { bundleChildren } from './bundled-child.ts';

const folder = mkdtempSync(join(tmpdir(), 'runledger-kill-'));
const scripts = join(folder, 'scripts');
const prepared = join(folder, 'prepared');

beforeAll(() => bundleChildren(['saving-child', 'keeping-child'], scripts));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Runs a script, kills it `delayMs` after its first word, and gives the last number it said. */
function killMidway(script: string, words: readonly string[], delayMs: number): Promise<number> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [join(scripts, `${script}.js`), ...words]);
    let said = '';
    child.stdout.once('data', () => setTimeout(() => child.kill('SIGKILL'), delayMs));
    child.stdout.on('data', (chunk: Buffer) => {
      said += chunk.toString();
    });
    child.stderr.on('data', (chunk: Buffer) => reject(new Error(chunk.toString())));
    child.once('error', reject);
    child.once('close', () => {
      if (said.includes('failed')) reject(new Error(said));
      else resolve(Number(said.trimEnd().split('\n').at(-1)?.split(' ')[1]));
    });
  });
}

function versionOf(bytes: Uint8Array): number {
  const unpacked = unpackProject(bytes, 'killed.runledger');
  if (!unpacked.ok) throw new Error(JSON.stringify(unpacked.reason));
  return Number(unpacked.project.name.split(' ')[1]);
}

/** Projects whose name is their version; bytes that do not pack, so that a write takes its time. */
const VERSIONS = 8;
function prepare(): void {
  mkdirSync(prepared);
  for (let version = 0; version < VERSIONS; version += 1) {
    const projectText = writeProject(blankProject(`version ${version}`));
    const bytes = new Uint8Array(400_000).map((_, at) => (at * 2_654_435_761 + version) >>> 13);
    const sources = [{ name: 'source.zip', bytes }];
    const packed = packProject({ projectText, sources, appVersion: '0.1.0' });
    writeFileSync(join(prepared, `${version}.runledger`), packed);
  }
}

const KILLS = 150;
const LANES = 2;

test(`killed ${KILLS} times mid-save: the file is always version n or n + 1, and whole`, async () => {
  prepare();
  let inside = 0;
  const lane = async (number: number) => {
    const home = mkdtempSync(join(folder, 'lane-'));
    const path = join(home, 'job.runledger');
    let next = 0;
    for (let kill = number; kill < KILLS; kill += LANES) {
      // Spread over several saves, in steps that do not beat with them.
      const words = [path, prepared, String(next)];
      const last = await killMidway('saving-child', words, (kill * 0.37) % 13);
      const version = versionOf(new Uint8Array(readFileSync(path)));
      expect([last % VERSIONS, (last + 1) % VERSIONS]).toContain(version);
      const others = readdirSync(home).filter((name) => name !== 'job.runledger');
      // One at most: what the kill before left behind was swept by the next save.
      expect(others.length).toBeLessThanOrEqual(1);
      if (others.length > 0 || version !== last % VERSIONS) inside += 1;
      next = version + 1;
    }
    expect(await saveFile(path, readFileSync(path))).toEqual({ ok: true });
    expect(readdirSync(home)).toEqual(['job.runledger']);
  };
  await Promise.all(Array.from({ length: LANES }, (_, number) => lane(number)));
  // Kills did fall into saves, or the test would prove nothing.
  expect(inside).toBeGreaterThan(KILLS / 10);
});

test('killed while it keeps a recovery copy: the copy is offered at once, whole', async () => {
  for (let kill = 0; kill < 25; kill += 1) {
    const home = join(folder, `state-${kill}`);
    const last = await killMidway('keeping-child', [home], (kill * 0.61) % 11);
    const store = createRecoveryStore({ folder: home, appVersion: '0.1.0' });
    const offers = await store.list();
    expect(offers).toMatchObject([{ name: 'Larkspur' }]);
    const copy = await store.read(offers[0]?.recoveryId ?? '');
    expect([last, last + 1]).toContain(versionOf(copy?.bytes ?? new Uint8Array()));
    expect(readdirSync(home)).toHaveLength(1);
  }
});
