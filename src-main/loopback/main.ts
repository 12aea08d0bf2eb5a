/** Entry of `npm start`: the window in the system's browser, served on this machine only. */
import { readFile, rm } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { createRecoveryStore } from '../projects/recovery-store.ts';
import { saveFile } from '../projects/save-file.ts';
import { stateFolder } from '../projects/state-folder.ts';
import { FileStore } from '../services/file-store.ts';
import type { LaunchFile } from '../services/launch-file.ts';
import { createServices, DEMO_NAME } from '../services/services.ts';
import { readSourceFileInWorker } from '../workbook/read-in-worker.ts';
import { findNamedFile } from './named-file.ts';
import { openBrowser } from './open-browser.ts';
import { readPageFiles } from './page-files.ts';
import { type LoopbackHost, startLoopbackHost } from './server.ts';
import { readStartWords, START_HELP, type StartWords } from './start-words.ts';

const say = (sentence: string) => process.stderr.write(`${sentence}\n`);
/** Put in by the build, from package.json. */
const version = process.env.RUNLEDGER_VERSION ?? 'development';
const userFolder = process.env.INIT_CWD ?? process.cwd();
/** The bundler leaves this entry in `main`, beside `renderer`. */
const built = (path: string) => fileURLToPath(new URL(path, import.meta.url));

async function startHost(words: StartWords, launchFile: LaunchFile | null): Promise<LoopbackHost> {
  const store = new FileStore();
  const handlers = createServices({
    host: 'loopback',
    version,
    store,
    launchFile,
    startWithDemo: words.demo,
    recovery: createRecoveryStore({ folder: join(stateFolder(), 'recovery'), appVersion: version }),
    demo: () => readFile(built(`./${DEMO_NAME}`)),
    readSource: (bytes, fileName) => readSourceFileInWorker(bytes, fileName),
    exportWorkbook: async (project) => {
      const { writeMarkedUpWorkbook } = await import('../workbook/write-workbook.ts');
      return writeMarkedUpWorkbook(project);
    },
    warn: say,
  });
  const pages = await readPageFiles(built('../renderer'));
  return startLoopbackHost({ handlers, store, pages, canMint: process.stdin.isTTY === true });
}

/** For a program that waits for the address; readable by this user only, since it opens the door. */
async function tellPort(path: string, host: LoopbackHost, address: string): Promise<string | null> {
  const text = `${JSON.stringify({ port: host.port, address })}\n`;
  const saved = await saveFile(path, Buffer.from(text), { mode: 0o600 });
  return saved.ok ? null : saved.reason.what;
}

function mintOnEnter(host: LoopbackHost): void {
  if (process.stdin.isTTY !== true) return;
  say('Press Enter for a new address, Ctrl+C to end.');
  const lines = createInterface({ input: process.stdin });
  lines.on('line', () => say(host.mintAddress()));
}

function endOnSignal(host: LoopbackHost, portFile: string | null): void {
  let ending = false;
  const end = async () => {
    if (ending) return;
    ending = true;
    await host.close();
    if (portFile !== null) await rm(portFile, { force: true });
    process.exit(0);
  };
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, end);
}

/** @returns the exit code when nothing is served; null while the host runs */
async function start(argv: readonly string[]): Promise<number | null> {
  const read = readStartWords(argv);
  if (!read.ok) {
    say(read.message);
    return 2;
  }
  const { words } = read;
  if (words.help) {
    process.stdout.write(START_HELP);
    return 0;
  }
  let launchFile: LaunchFile | null = null;
  if (words.file !== null) {
    const named = await findNamedFile(words.file, userFolder);
    if (!named.ok) {
      say(named.message);
      return 2;
    }
    launchFile = named.file;
  }
  const host = await startHost(words, launchFile);
  const portFile = words.portFile === null ? null : resolve(userFolder, words.portFile);
  endOnSignal(host, portFile);
  const address = host.mintAddress();
  say(`Runledger is open at ${address}`);
  say('The address lets one browser in, once, within a minute.');
  if (portFile !== null) {
    const why = await tellPort(portFile, host, address);
    if (why !== null) {
      say(`--port-file: ${why}`);
      await host.close();
      return 4;
    }
  }
  if (words.open) openBrowser(address, say);
  mintOnEnter(host);
  return null;
}

start(process.argv.slice(2)).then(
  (code) => {
    if (code !== null) process.exit(code);
  },
  (fault: unknown) => {
    const what = fault instanceof Error ? fault.message : String(fault);
    say(`runledger: a fault of ours (${what}). Please report it.`);
    process.exit(70);
  },
);
