import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'vite';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { readSourceFile } from '../../src-main/workbook/read-file.ts';
import { readSourceFileInWorker } from '../../src-main/workbook/read-in-worker.ts';
import { fixtureBytes } from './fixture.ts';
import { packageBytes } from './package-builder.ts';

// The worker is bundled as the product bundles it, then started from the bundle.
const folder = mkdtempSync(join(tmpdir(), 'runledger-worker-'));
const workerUrl = pathToFileURL(join(folder, 'read-worker.js'));
const scriptUrl = (name: string, text: string) => {
  writeFileSync(join(folder, name), text);
  return pathToFileURL(join(folder, name));
};

beforeAll(async () => {
  const source = (name: string) =>
    fileURLToPath(new URL(`../../src-main/workbook/${name}.ts`, import.meta.url));
  await build({
    configFile: false,
    logLevel: 'error',
    ssr: { noExternal: true },
    build: {
      ssr: true,
      outDir: folder,
      target: 'node20',
      rollupOptions: {
        input: {
          'read-worker': source('read-worker'),
          'read-in-worker': source('read-in-worker'),
        },
      },
    },
  });
  writeFileSync(join(folder, 'package.json'), '{"type":"module"}');
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

test.each([
  'openpyxl-schedule.xlsx',
  'xw.xlsx',
  'xlsxwriter-plain.xlsx',
  'xlsxwriter-marks.xlsx',
  'openpyxl-marks.xlsx',
  'comma-utf8.csv',
  'old-schedule.xls',
])('%s comes out of the worker as from a direct read', async (name) => {
  const bytes = fixtureBytes(name);
  const before = bytes.slice();
  expect(await readSourceFileInWorker(bytes, name, { workerUrl })).toEqual(
    readSourceFile(bytes, name),
  );
  expect(bytes).toEqual(before);
});

test('the bundle finds its own worker', async () => {
  expect(readdirSync(folder)).toContain('read-worker.js');
  const bundled: { readSourceFileInWorker: typeof readSourceFileInWorker } = await import(
    /* @vite-ignore */ pathToFileURL(join(folder, 'read-in-worker.js')).href
  );
  const outcome = await bundled.readSourceFileInWorker(fixtureBytes('lo.xlsx'), 'lo.xlsx');
  expect(outcome.ok).toBe(true);
});

test('a reading that takes too long is ended', async () => {
  const endless = scriptUrl('endless.js', 'for (;;);');
  const start = performance.now();
  const outcome = await readSourceFileInWorker(new Uint8Array(1), 'a/slow.xlsx', {
    timeoutMs: 300,
    workerUrl: endless,
  });
  expect(performance.now() - start).toBeLessThan(3_000);
  expect(outcome).toMatchObject({ ok: false, refusal: { code: 'timeout', where: 'slow.xlsx' } });
});

test('a reading that takes too much memory is ended', async () => {
  const rows = `<row>${'<c t="inlineStr"><is><t>abcdefgh</t></is></c>'.repeat(500)}</row>`.repeat(
    800,
  );
  const outcome = await readSourceFileInWorker(packageBytes({ rows }), 'big.xlsx', {
    memoryMb: 24,
    workerUrl,
  });
  expect(outcome).toMatchObject({ ok: false, refusal: { code: 'memory', where: 'big.xlsx' } });
});

test('a worker that fails or ends early is a refusal', async () => {
  for (const text of ['throw new Error("inside")', 'process.exit(0)']) {
    const broken = scriptUrl(`broken-${text.length}.js`, text);
    const outcome = await readSourceFileInWorker(new Uint8Array(1), 'x.csv', { workerUrl: broken });
    expect(outcome).toMatchObject({ ok: false, refusal: { code: 'reader-ended' } });
    expect(JSON.stringify(outcome)).not.toMatch(/inside/);
  }
});
