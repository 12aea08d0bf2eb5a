import { type ChildProcess, spawn } from 'node:child_process';
import { findBrowser, type Machine, thisMachine } from './find-browser.ts';

/** A browser that fails does so within this time. */
const WATCH_MS = 4_000;

/**
 * Starts a browser on the address and lets it go. Never fails: whatever keeps it from starting is
 * told in a sentence.
 */
export function openBrowser(
  address: string,
  say: (sentence: string) => void,
  machine: Machine = thisMachine(),
): void {
  const found = findBrowser(machine, address);
  if (!found.ok) {
    say(`${found.why} Open the address above in a browser on this machine.`);
    return;
  }
  const { program, words, note } = found.start;
  if (note !== null) say(note);
  const failed = () =>
    say(`${program} did not start. Open the address above in a browser yourself.`);
  let child: ChildProcess;
  try {
    child = spawn(program, words, { detached: true, stdio: 'ignore' });
  } catch {
    // Some faults of the system are thrown at once: a program for another kind of machine.
    failed();
    return;
  }
  const watch = setTimeout(() => child.removeAllListeners('exit'), WATCH_MS);
  watch.unref();
  child.once('error', failed);
  child.once('exit', (code) => {
    if (code !== 0) failed();
  });
  child.unref();
}
