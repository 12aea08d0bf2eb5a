/** The words behind `npm start --`. */

export interface StartWords {
  /** A schedule or project to open; as written. */
  readonly file: string | null;
  readonly demo: boolean;
  /** Start a browser. */
  readonly open: boolean;
  /** Use the browser, even where the desktop shell could open a window. */
  readonly browser: boolean;
  /** Where to write port and address for a program that waits for them; as written. */
  readonly portFile: string | null;
  readonly help: boolean;
}

export type ReadWords =
  | { readonly ok: true; readonly words: StartWords }
  | { readonly ok: false; readonly message: string };

export const START_HELP = `Runledger: from a fixture schedule to runs that can be bought, wired, addressed and approved.

    npm start -- [FILE] [options]

FILE                a schedule (.xlsx, .csv) or a saved project (.runledger) to open
--demo              open a copy of the demo job
--browser           open in the browser, even where the desktop window could be opened
--no-fetch          do not fetch the desktop shell (RUNLEDGER_NO_FETCH=1 says the same)
--no-open           start no browser; only print the address
--port-file PATH    write port and address to PATH as JSON, for a program that waits for them
--help              this text
`;

const SEE_HELP = 'See npm start -- --help.';

/** Reads the command line; a word that is wrong is answered with one sentence. */
export function readStartWords(argv: readonly string[]): ReadWords {
  let file: string | null = null;
  let portFile: string | null = null;
  let demo = false;
  let open = true;
  let browser = false;
  let help = false;
  let onlyNames = false;
  const words = argv[Symbol.iterator]();
  for (const word of words) {
    if (onlyNames || !word.startsWith('-')) {
      if (file !== null) {
        const message = `${word}: only one file can be opened at start; ${file} was named already. ${SEE_HELP}`;
        return { ok: false, message };
      }
      file = word;
    } else if (word === '--') onlyNames = true;
    else if (word === '--demo') demo = true;
    else if (word === '--no-open') open = false;
    else if (word === '--browser') browser = true;
    else if (word === '--no-fetch') continue;
    else if (word === '--help' || word === '-h') help = true;
    else if (word === '--port-file' || word.startsWith('--port-file=')) {
      const value = word.includes('=') ? word.slice('--port-file='.length) : words.next().value;
      if (!value) return { ok: false, message: `--port-file: a path must follow. ${SEE_HELP}` };
      portFile = value;
    } else return { ok: false, message: `${word}: no such option. ${SEE_HELP}` };
  }
  if (demo && file !== null) {
    return { ok: false, message: `--demo: cannot go with a file (${file}). ${SEE_HELP}` };
  }
  return { ok: true, words: { file, demo, open, browser, portFile, help } };
}
