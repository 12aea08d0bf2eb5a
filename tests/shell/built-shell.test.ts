/** The shell as it is built: its page, preload script, demo, reader and writers are where it looks. */
import { execFile } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { build } from 'vite';
import { afterAll, expect, test } from 'vitest';
import { ensureBuilt } from '../../src-main/start/ensure-built.mjs';
import { sampleText } from '../projects/sample-file.ts';

const folder = mkdtempSync(join(tmpdir(), 'runledger-built-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

test('opens the demo through its worker and writes a workbook, all from the build', async () => {
  const built = await ensureBuilt();
  const at = (name: string) => fileURLToPath(new URL(`./${name}.ts`, import.meta.url));
  await build({
    configFile: false,
    logLevel: 'error',
    ssr: { noExternal: true },
    build: {
      ssr: true,
      outDir: folder,
      target: 'node20',
      rollupOptions: {
        input: { child: at('built-child'), stub: at('electron-stub') },
        output: { entryFileNames: '[name].mjs' },
        // The stub stays a module of its own: the built entry takes the very same one.
        external: [/^electron$/],
      },
    },
  });
  const out = join(folder, 'marked.xlsx');
  const words = [join(folder, 'child.mjs'), join(built, 'main/desktop.js')];
  const { stdout } = await promisify(execFile)(
    process.execPath,
    [...words, join(folder, 'stub.mjs'), out],
    { env: { ...process.env, RUNLEDGER_STATE_DIR: folder, SAMPLE_TEXT: sampleText } },
  );
  expect(JSON.parse(stdout)).toEqual({
    version: '0.1.0',
    preload: true,
    script: 'text/javascript; charset=utf-8',
    opened: 'schedule',
    saved: 'file',
  });
  expect(readFileSync(out).subarray(0, 2).toString()).toBe('PK');
});
