import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

// `npm run bench`: prints figures, checks the answers first, times nothing as a test.
export default defineConfig({
  root: fileURLToPath(new URL('../..', import.meta.url)),
  test: {
    include: ['tests/bench/**/*.bench.ts'],
    testTimeout: 600_000,
    hookTimeout: 600_000,
    fileParallelism: false,
    // What the engine holds can only be weighed when the collector can be called.
    execArgv: ['--expose-gc'],
    disableConsoleIntercept: true,
  },
});
