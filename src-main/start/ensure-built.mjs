/**
 * Builds the program when its sources have changed since the last time: `out/<hash>/` holds one
 * whole build and is only ever made by a rename, so that two at once do not disturb each other.
 * Everything it says goes to standard error. Also run by itself: `npm run build`.
 */
import { spawn } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import {
  existsSync,
  mkdirSync,
  readdirSync,
  renameSync,
  rmSync,
  statSync,
  utimesSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { sourceHash } from './source-hash.mjs';

const root = fileURLToPath(new URL('../..', import.meta.url));
const outFolder = join(root, 'out');
const DAY_MS = 24 * 60 * 60 * 1000;
/** Builds not used for this long are removed, but never the newest three. */
const KEEP_MS = DAY_MS;
const KEEP_COUNT = 3;

/** @param {string} folder */
function builder(folder) {
  let packageFile;
  try {
    packageFile = createRequire(import.meta.url).resolve('electron-vite/package.json');
  } catch {
    throw new Error('The build tools are not installed: run npm ci first.');
  }
  const tool = join(dirname(packageFile), 'bin', 'electron-vite.js');
  const words = [tool, 'build', '--outDir', folder, '--logLevel', 'warn'];
  // The tool's standard output becomes our standard error: results alone go to standard output.
  return spawn(process.execPath, words, { cwd: root, stdio: ['ignore', 2, 2] });
}

/** @param {string} folder */
function build(folder) {
  return new Promise((resolve, reject) => {
    const child = builder(folder);
    child.once('error', reject);
    child.once('exit', (code) => {
      if (code === 0) resolve(undefined);
      else reject(new Error('The program could not be built; what is wrong stands above.'));
    });
  });
}

/** @param {string} path */
function age(path) {
  try {
    return Date.now() - statSync(path).mtimeMs;
  } catch {
    return 0;
  }
}

/** Old builds and what killed builds left behind. Best effort. */
function sweep() {
  const entries = readdirSync(outFolder).map((name) => join(outFolder, name));
  const ages = entries
    .map((path) => ({ path, ageMs: age(path) }))
    .sort((a, b) => a.ageMs - b.ageMs);
  const isPart = (/** @type {string} */ path) => path.includes('.building-');
  const parts = ages.filter(({ path, ageMs }) => isPart(path) && ageMs > DAY_MS / 24);
  const builds = ages.filter(({ path }) => /[\\/][0-9a-f]{16}$/.test(path)).slice(KEEP_COUNT);
  for (const { path } of [...parts, ...builds.filter(({ ageMs }) => ageMs > KEEP_MS)]) {
    rmSync(path, { recursive: true, force: true });
  }
}

/** Newer stamps keep a build from being swept. Best effort: the checkout may belong to someone else. @param {string} folder */
function markUsed(folder) {
  try {
    const now = new Date();
    utimesSync(folder, now, now);
  } catch {
    // Whoever may not write here sweeps nothing here either.
  }
}

/**
 * The folder of a build of the sources as they stand: `main/loopback.js`, `main/command.js`,
 * `renderer/` …
 * @returns {Promise<string>}
 * @throws Error with one clear sentence when it cannot be built
 */
export async function ensureBuilt() {
  const folder = join(outFolder, sourceHash(root));
  if (existsSync(folder)) {
    markUsed(folder);
    return folder;
  }
  mkdirSync(outFolder, { recursive: true });
  const temporary = join(outFolder, `.building-${process.pid}-${randomBytes(4).toString('hex')}`);
  process.stderr.write('Building Runledger …\n');
  try {
    await build(temporary);
    renameSync(temporary, folder);
  } catch (fault) {
    rmSync(temporary, { recursive: true, force: true });
    // Another one was faster: its build is as good as ours.
    if (!existsSync(folder)) throw fault;
  }
  sweep();
  return folder;
}

/**
 * Builds at need and runs an entry in this process.
 * @param {string} entry `main/loopback.js`
 */
export async function runBuilt(entry) {
  let folder;
  try {
    folder = await ensureBuilt();
  } catch (fault) {
    process.stderr.write(`runledger: ${fault instanceof Error ? fault.message : String(fault)}\n`);
    process.exit(70);
  }
  await import(pathToFileURL(join(folder, entry)).href);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  await ensureBuilt().catch((fault) => {
    process.stderr.write(`${fault instanceof Error ? fault.message : String(fault)}\n`);
    process.exitCode = 1;
  });
}
