import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

// Kept beside the tests: vitest takes its path on the command line.
export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  test: {
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/bench/**', 'node_modules/**', 'out/**'],
    testTimeout: 60_000,
    hookTimeout: 120_000,
    maxWorkers: 2,
  },
});
