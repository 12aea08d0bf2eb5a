/** Entry of the loopback host: the window in the system's browser, served on this machine only. */
import { rm } from 'node:fs/promises';
import { resolve } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import type { HeldFile } from '../../src-shared/contract/requests.ts';
import { readPageFiles } from '../page/page-files.ts';
import { builtPages, type PageSource, pagesUnderWork } from '../page/page-source.ts';
import { saveFile } from '../projects/save-file.ts';
import { stateFolder } from '../projects/state-folder.ts';
import { browserFrame } from '../services/frame.ts';
import { makeHostParts } from '../services/host-parts.ts';
import { leaveAsDownload } from '../services/leave-file.ts';
import { findNamedFile } from '../services/named-file.ts';
import { createServices, DEMO_NAME } from '../services/services.ts';
import { readStartWords, START_HELP, type StartWords } from '../start/start-words.ts';
import { openBrowser } from './open-browser.ts';
import { type LoopbackHost, startLoopbackHost } from './server.ts';

const say = (sentence: string) => process.stderr.write(`${sentence}\n`);
/** Put in by the build, from package.json. */
const version = process.env.RUNLEDGER_VERSION ?? 'development';
const userFolder = process.env.INIT_CWD ?? process.cwd();
/** The bundler leaves this entry in `main`, beside `renderer`. */
const built = (path: string) => fileURLToPath(new URL(path, import.meta.url));

/** Put in by the build: only a development build may take its page from the build tool's server. */
async function pages(): Promise<PageSource> {
  const server = process.env.ELECTRON_RENDERER_URL;
  if (process.env.RUNLEDGER_DEVELOPMENT === 'yes' && server) return pagesUnderWork(server);
  return builtPages(await readPageFiles(built('../renderer')));
}

type Common = ReturnType<typeof makeHostParts>;

async function startHost(
  parts: Common,
  words: StartWords,
  launchFile: HeldFile | null,
): Promise<LoopbackHost> {
  const handlers = createServices({
    ...parts,
    host: 'loopback',
    leave: leaveAsDownload(parts.store),
    frame: browserFrame,
    launchFile: () => launchFile,
    startWithDemo: words.demo,
  });
  const canMint = process.stdin.isTTY === true;
  return startLoopbackHost({ handlers, store: parts.store, pages: await pages(), canMint });
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
  const parts = makeHostParts({
    version,
    stateFolder: stateFolder(),
    demoPath: built(`./${DEMO_NAME}`),
    warn: say,
  });
  let launchFile: HeldFile | null = null;
  if (words.file !== null) {
    const named = await findNamedFile(parts.disk, words.file, userFolder);
    if (!named.ok) {
      say(named.message);
      return 2;
    }
    launchFile = named.file;
  }
  const host = await startHost(parts, words, launchFile);
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
