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

export default defineConfig(({ command }) => ({
  main: {
    plugins: [demoWorkbook()],
    define: {
      'process.env.RUNLEDGER_VERSION': JSON.stringify(version),
      // Built for good, no host ever takes its page from a server, whatever the environment says.
      'process.env.RUNLEDGER_DEVELOPMENT': JSON.stringify(command === 'serve' ? 'yes' : 'no'),
    },
    build: {
      target: 'node20',
      // Small libraries go into the bundle: one file loads faster than a folder of modules.
      // Not fflate: its `require` collides with the one electron-vite puts into each file.
      externalizeDeps: { exclude: ['csv-parse', 'numfmt', 'saxes', 'zod'] },
      rollupOptions: {
        input: {
          desktop: at('src-main/electron/main.ts'),
          loopback: at('src-main/loopback/main.ts'),
          command: at('src-main/command/main.ts'),
          'read-worker': at('src-main/workbook/read-worker.ts'),
        },
      },
    },
  },
  preload: {
    build: {
      // A sandboxed preload has no module loader: one CommonJS file, nothing beside it.
      externalizeDeps: false,
      isolatedEntries: true,
      rollupOptions: {
        input: { preload: at('src-main/electron/preload.ts') },
        output: { format: 'cjs', entryFileNames: '[name].cjs' },
      },
    },
  },
  renderer: {
    root: at('src-renderer'),
    // Only while the build tool serves the page: its style elements ask for the page's nonce.
    ...(command === 'serve' && { html: { cspNonce: '%CSP_NONCE%' } }),
    server: { host: '127.0.0.1', cors: false },
    build: {
      minify: true,
      // Nothing as a data: address: the page's policy lets fonts come from the host only.
      assetsInlineLimit: 0,
      chunkSizeWarningLimit: 2_000,
      rollupOptions: { input: at('src-renderer/index.html') },
    },
  },
}));
