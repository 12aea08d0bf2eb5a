import { readFileSync } from 'node:fs';
import { defineConfig } from 'electron-vite';
import type { Plugin } from 'vite';

const at = (path: string) => new URL(path, import.meta.url).pathname;

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
    build: {
      target: 'node20',
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
      rollupOptions: { input: at('src-renderer/index.html') },
    },
  },
});
