import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { noteTried } from './find-electron.mjs';

/** The longest the fetching may take. */
export const FETCH_MS = 30_000;

/**
 * Fetches the desktop shell's program by its package's own installer, which checks the sum of what
 * it gets. Ends it after `limitMs`.
 * @param {string} packageFolder of the `electron` package
 * @param {number} [limitMs]
 * @returns {Promise<boolean>} it is here now
 */
export function fetchElectron(packageFolder, limitMs = FETCH_MS) {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [join(packageFolder, 'install.js')], { stdio: 'ignore' });
    const timer = setTimeout(() => child.kill('SIGKILL'), limitMs);
    /** @param {boolean} done */
    const end = (done) => {
      clearTimeout(timer);
      if (!done) noteTried(packageFolder);
      resolve(done);
    };
    child.once('error', () => end(false));
    // An installer told by the environment to skip the fetching ends well, and leaves nothing.
    child.once('exit', (code) => end(code === 0 && existsSync(join(packageFolder, 'path.txt'))));
  });
}
