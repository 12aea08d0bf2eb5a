/** `npm start`: builds at need, then opens the window: in the desktop shell where it can, else in the browser. */
import { join } from 'node:path';
import { ensureBuilt, runBuilt } from './ensure-built.mjs';
import { fetchElectron } from './fetch-electron.mjs';
import { electronProgram, theseSurroundings, whyNotFetch, whyNoWindow } from './find-electron.mjs';
import { runElectron } from './run-electron.mjs';
import { settleUserFolder } from './user-folder.mjs';

const words = process.argv.slice(2);
const say = (/** @type {string} */ sentence) => process.stderr.write(`${sentence}\n`);
/** Any other option asks for the browser or for no window at all, or is wrong, which its host says. */
const forEither = ['--demo', '--no-fetch'];
const isForBrowser = words.some((word) => word.startsWith('-') && !forEither.includes(word));

/**
 * The shell's program, fetched if that is allowed.
 * @returns {Promise<{ program: string } | { why: string }>}
 */
async function findShell() {
  const surroundings = theseSurroundings();
  const noWindow = whyNoWindow(surroundings);
  if (noWindow !== null) return { why: noWindow };
  const here = electronProgram(surroundings);
  if (here !== null) return { program: here };
  const not = whyNotFetch(surroundings, words);
  if (not !== null) return { why: not };
  say('Fetching the desktop shell, once, for at most 30 s (--no-fetch forbids it) …');
  await fetchElectron(surroundings.packageFolder ?? '');
  const fetched = electronProgram(surroundings);
  return fetched === null ? { why: 'it could not be fetched' } : { program: fetched };
}

/** True: the window was open in the shell, and the program has ended. */
async function ranInShell() {
  const shell = await findShell();
  let why = 'why' in shell ? shell.why : null;
  if ('program' in shell) {
    const folder = await ensureBuilt();
    why = await runElectron(shell.program, join(folder, 'main/desktop.js'), words);
    if (why === null) return true;
  }
  say(`The desktop shell is not used: ${why}. Runledger opens in the browser.`);
  return false;
}

settleUserFolder();
if (isForBrowser || !(await ranInShell())) await runBuilt('main/loopback.js');
