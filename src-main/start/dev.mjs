/**
 * `npm run dev`: the window straight from the sources, loaded again when one changes; a change of
 * the host starts it again. In the desktop shell where its program is, else (or with --browser) in
 * the browser. electron-vite runs whatever program it is given: here Node on the loopback entry.
 */
import { spawn } from 'node:child_process';
import { mkdirSync, readdirSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { electronProgram, theseSurroundings, whyNoWindow } from './find-electron.mjs';
import { settleUserFolder } from './user-folder.mjs';

const root = fileURLToPath(new URL('../..', import.meta.url));
const words = process.argv.slice(2);
settleUserFolder();

const surroundings = theseSurroundings();
const isForBrowser =
  words.some((word) => /^--(?:browser|no-open|port-file)/.test(word)) ||
  whyNoWindow(surroundings) !== null;
const shell = isForBrowser ? null : electronProgram(surroundings);
// A folder of its own for each run: two at once do not disturb each other.
const outFolder = join(root, 'out');
const out = join(outFolder, `dev-${process.pid}`);
mkdirSync(out, { recursive: true });
removeLeftOver();
process.stderr.write(
  `Development in the ${shell === null ? 'browser' : 'desktop shell'}; Ctrl+C ends it.\n`,
);
const tool = dirname(createRequire(import.meta.url).resolve('electron-vite/package.json'));
const entry = join(out, 'main', shell === null ? 'loopback.js' : 'desktop.js');
const child = spawn(
  process.execPath,
  [
    join(tool, 'bin/electron-vite.js'),
    'dev',
    '--watch',
    '--outDir',
    out,
    '--entry',
    entry,
    '--',
    ...words,
  ],
  {
    cwd: root,
    stdio: 'inherit',
    env: { ...process.env, ELECTRON_EXEC_PATH: shell ?? process.execPath },
  },
);
for (const signal of /** @type {const} */ (['SIGINT', 'SIGTERM', 'SIGHUP'])) {
  process.on(signal, () => child.kill(signal));
}
child.once('exit', (code) => {
  rmSync(out, { recursive: true, force: true });
  process.exitCode = code ?? 0;
});

/** What killed runs have left behind. */
function removeLeftOver() {
  for (const name of readdirSync(outFolder)) {
    const pid = /^dev-(\d+)$/.exec(name)?.[1];
    if (pid === undefined || Number(pid) === process.pid || isRunning(Number(pid))) continue;
    rmSync(join(outFolder, name), { recursive: true, force: true });
  }
}

/** @param {number} pid */
function isRunning(pid) {
  try {
    process.kill(pid, 0);
    return true;
  } catch (fault) {
    return fault instanceof Error && 'code' in fault && fault.code === 'EPERM';
  }
}
