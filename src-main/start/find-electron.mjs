/** Whether the desktop shell can be started here, by looks at files only: asking the package fetches. */
import { existsSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';

/**
 * @typedef {object} Surroundings
 * @property {NodeJS.Platform} platform
 * @property {Readonly<Record<string, string | undefined>>} env
 * @property {boolean} isRoot
 * @property {string | null} packageFolder of the `electron` package; null: not installed
 */

/** @returns {Surroundings} */
export function theseSurroundings() {
  let packageFolder = null;
  try {
    packageFolder = dirname(createRequire(import.meta.url).resolve('electron/package.json'));
  } catch {
    // Installed without it: there is the browser.
  }
  const { platform, env } = process;
  return { platform, env, isRoot: process.getuid?.() === 0, packageFolder };
}

/**
 * Path of the program; null: not here.
 * @param {Surroundings} surroundings
 * @returns {string | null}
 */
export function electronProgram({ env, platform, packageFolder }) {
  const named = packageFolder === null ? null : join(packageFolder, 'path.txt');
  const within = named !== null && existsSync(named) ? readFileSync(named, 'utf8') : null;
  const own = env.ELECTRON_OVERRIDE_DIST_PATH;
  const usual = platform === 'win32' ? 'electron.exe' : 'electron';
  const found = own
    ? join(own, within ?? usual)
    : packageFolder !== null && within !== null
      ? join(packageFolder, 'dist', within)
      : null;
  return found !== null && isProgram(found) ? found : null;
}

/** There, and not the empty file that a fetch cut off by a crash leaves. @param {string} path */
function isProgram(path) {
  const found = statSync(path, { throwIfNoEntry: false });
  return found?.isFile() === true && found.size > 0;
}

/**
 * Why no window of the shell could be opened even if its program is here; null: it could.
 * @param {Surroundings} surroundings
 * @returns {string | null}
 */
export function whyNoWindow({ env, platform, isRoot }) {
  if (platform !== 'linux') return null;
  if (!env.DISPLAY && !env.WAYLAND_DISPLAY) return 'there is no display';
  return isRoot ? 'it does not run as root' : null;
}

/** A try to fetch that failed is noted beside the package: it is made once for each install. */
const TRIED = 'fetch-tried';

/**
 * Why the program is not to be fetched; null: it may be.
 * @param {Surroundings} surroundings
 * @param {readonly string[]} words of the command line
 * @returns {string | null}
 */
export function whyNotFetch({ env, packageFolder }, words) {
  if (packageFolder === null) return 'its package is not installed';
  if (words.includes('--no-fetch')) return 'it is not here, and --no-fetch forbids to fetch it';
  if (env.RUNLEDGER_NO_FETCH) return 'it is not here, and RUNLEDGER_NO_FETCH forbids to fetch it';
  if (env.CI) return 'it is not here, and nothing is fetched on CI';
  if (existsSync(join(packageFolder, TRIED))) {
    return 'it is not here, and fetching it failed before; npm ci allows another try';
  }
  return null;
}

/** Best effort. @param {string} packageFolder */
export function noteTried(packageFolder) {
  try {
    writeFileSync(join(packageFolder, TRIED), `${new Date().toISOString()}\n`);
  } catch {
    // Whoever may not write here is asked again at the next start.
  }
}
