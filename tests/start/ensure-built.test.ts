/** Building at need, in a copy of the sources, so that the checkout's own builds are left alone. */
import { type ChildProcess, spawn } from 'node:child_process';
import {
  appendFileSync,
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  rmSync,
  symlinkSync,
  utimesSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, expect, test } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'runledger-build-'));
// A blank in the path has broken builds before.
const copy = join(folder, 'a copy');
const builds = () => (existsSync(join(copy, 'out')) ? readdirSync(join(copy, 'out')) : []);

beforeAll(() => {
  mkdirSync(copy);
  for (const name of readdirSync(root)) {
    if (/^(src-|electron\.vite|package|tsconfig)/.test(name)) {
      cpSync(join(root, name), join(copy, name), { recursive: true });
    }
  }
  symlinkSync(join(root, 'node_modules'), join(copy, 'node_modules'), 'junction');
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function start(words: readonly string[], cwd = folder) {
  const child: ChildProcess = spawn(process.execPath, words, { cwd });
  let out = '';
  let said = '';
  child.stdout?.on('data', (chunk: Buffer) => {
    out += chunk.toString();
  });
  child.stderr?.on('data', (chunk: Buffer) => {
    said += chunk.toString();
  });
  const ended = new Promise<{ code: number | null; out: string; said: string }>((resolve) =>
    child.once('close', (code) => resolve({ code, out, said })),
  );
  return { child, ended };
}

const build = () => start([join(copy, 'src-main/start/ensure-built.mjs')]);

test('two at once on a fresh checkout: both are served by one whole build, in under 30 s', async () => {
  const begun = performance.now();
  const ends = await Promise.all([build().ended, build().ended]);
  expect(performance.now() - begun).toBeLessThan(30_000);
  for (const { code, out, said } of ends) {
    expect([code, out]).toEqual([0, '']);
    expect(said).toMatch(/Building Runledger/);
  }
  const [name = '', ...more] = builds();
  expect(more).toEqual([]);
  expect(name).toMatch(/^[0-9a-f]{16}$/);
  const parts = [
    'main/desktop.js',
    'main/loopback.js',
    'preload/preload.cjs',
    'main/command.js',
    'main/read-worker.js',
    'renderer/index.html',
  ];
  for (const part of parts) expect(existsSync(join(copy, 'out', name, part))).toBe(true);
});

test('the second time nothing is built and nothing is said', async () => {
  const before = builds();
  expect(await build().ended).toEqual({ code: 0, out: '', said: '' });
  expect(builds()).toEqual(before);
});

test('the command runs from the build with its own words, from where the user stood', async () => {
  const { code, out, said } = await start([
    join(copy, 'src-main/start/check.mjs'),
    'a copy/src-main/demo/foxglove-roundhouse.xlsx',
    '--json',
    '-',
  ]).ended;
  expect([code, said]).toEqual([1, expect.any(String)]);
  expect(JSON.parse(out)).toMatchObject({
    format: 'runledger-check',
    counts: { stop: 4, breach: 6 },
  });
  const missing = await start([join(copy, 'src-main/start/runledger.mjs'), 'check', 'missing.csv'])
    .ended;
  expect([missing.code, missing.out]).toEqual([3, '']);
  expect(missing.said).toMatch(/^missing\.csv/);
});

test('a changed source is built anew; a killed build disturbs nobody and is swept later', async () => {
  const [before = ''] = builds();
  appendFileSync(join(copy, 'src-shared/units/length.ts'), '\n// changed\n');
  const killed = build();
  await new Promise<void>((resolve) => {
    const look = setInterval(() => {
      if (!builds().some((name) => name.startsWith('.building-'))) return;
      clearInterval(look);
      resolve();
    }, 5);
  });
  killed.child.kill('SIGKILL');
  await killed.ended;
  // The build tool itself may live on a moment and finish its folder: it is never taken for a build.
  expect((await build().ended).code).toBe(0);
  const whole = builds().filter((name) => !name.startsWith('.'));
  expect(whole).toHaveLength(2);
  expect(whole).toContain(before);
  const parts = builds().filter((name) => name.startsWith('.'));
  const old = new Date(Date.now() - 2 * 60 * 60 * 1000);
  for (const name of parts) utimesSync(join(copy, 'out', name), old, old);
  appendFileSync(join(copy, 'src-shared/units/length.ts'), '\n// again\n');
  expect((await build().ended).code).toBe(0);
  expect(builds().filter((name) => name.startsWith('.'))).toEqual([]);
  expect(builds()).toHaveLength(3);
});

test('a source that cannot be built: what is wrong, no build, no output', async () => {
  const before = builds();
  appendFileSync(join(copy, 'src-main/loopback/main.ts'), "\nimport './not-there.ts';\n");
  const { code, out, said } = await start([join(copy, 'src-main/start/check.mjs'), 'x.csv']).ended;
  expect([code, out]).toEqual([70, '']);
  expect(said).toMatch(/not-there/);
  expect(said).toMatch(/could not be built/);
  expect(builds()).toEqual(before);
});

test('before npm ci it says what to do', async () => {
  rmSync(join(copy, 'node_modules'));
  appendFileSync(join(copy, 'src-shared/units/length.ts'), '\n// once more\n');
  const { code, out, said } = await build().ended;
  expect([code, out]).toEqual([1, '']);
  expect(said).toMatch(/run npm ci first/);
});
