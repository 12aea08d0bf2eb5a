import { spawn } from 'node:child_process';

/** Exit codes of ours; any other end this soon means that the shell itself could not start. */
const OURS = [0, 2, 70];
const SOON_MS = 10_000;

/** @param {unknown} fault */
function whyNot(fault) {
  const code = fault instanceof Error && 'code' in fault ? fault.code : 'unknown cause';
  return `its program cannot be run (${code})`;
}

/**
 * Runs an entry in the desktop shell and ends with it.
 * @param {string} program
 * @param {string} entry `…/main/desktop.js`
 * @param {readonly string[]} words
 * @returns {Promise<string | null>} null: it ran, and the exit code is set; else why it did not start
 */
export function runElectron(program, entry, words) {
  // Nothing from outside turns the shell into plain Node or loads code into it.
  const { ELECTRON_RUN_AS_NODE: _run, NODE_OPTIONS: _options, ...env } = process.env;
  const begun = performance.now();
  return new Promise((resolve) => {
    let child;
    try {
      child = spawn(program, [entry, ...words], { stdio: 'inherit', env });
    } catch (fault) {
      // Some faults of the system are thrown at once: a program for another kind of machine.
      return resolve(whyNot(fault));
    }
    const pass = (/** @type {NodeJS.Signals} */ signal) => child.kill(signal);
    const signals = /** @type {const} */ (['SIGINT', 'SIGTERM', 'SIGHUP']);
    for (const signal of signals) process.on(signal, pass);
    child.once('error', (fault) => resolve(whyNot(fault)));
    child.once('exit', (code, signal) => {
      for (const name of signals) process.off(name, pass);
      const asked = signal !== null && signals.some((name) => name === signal);
      const failed = !asked && (code === null || !OURS.includes(code));
      if (failed && performance.now() - begun < SOON_MS) {
        return resolve(`it ended at once (${signal ?? `exit ${code}`})`);
      }
      process.exitCode = code ?? 1;
      resolve(null);
    });
  });
}
