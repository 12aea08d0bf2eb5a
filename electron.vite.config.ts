import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'electron-vite';
import type { Plugin } from 'vite';

const at = (path: string) => fileURLToPath(new URL(path, import.meta.url));

const { version } = JSON.parse(readFileSync(at('package.json'), 'utf8'));

/** Puts the demo workbook beside the entries, where the host reads it at run time. */
function demoWorkbook(): Plugin {
  const fileName = 'foxglove-roundhouse.xlsx';
  return {
    name: 'runledger-demo-workbook',
    generateBundle() {
      const source = readFileSync(at(`src-main/demo/${fileName}`));
      this.emitFile({ type: 'asset', fileName, source });
    },
  };
}

export default defineConfig({
  main: {
    plugins: [demoWorkbook()],
    define: { 'process.env.RUNLEDGER_VERSION': JSON.stringify(version) },
    build: {
      target: 'node20',
      // Small libraries go into the bundle: one file loads faster than a folder of modules.
      // Not fflate: its `require` collides with the one electron-vite puts into each file.
      externalizeDeps: { exclude: ['csv-parse', 'numfmt', 'saxes', 'zod'] },
      rollupOptions: {
        input: {
          loopback: at('src-main/loopback/main.ts'),
          command: at('src-main/command/main.ts'),
          'read-worker': at('src-main/workbook/read-worker.ts'),
        },
      },
    },
  },
  renderer: {
    root: at('src-renderer'),
    build: {
      minify: true,
      // Nothing as a data: address: the page's policy lets fonts come from the host only.
      assetsInlineLimit: 0,
      chunkSizeWarningLimit: 2_000,
      rollupOptions: { input: at('src-renderer/index.html') },
    },
  },
});
