/** Entry of the desktop shell. */
import { fileURLToPath } from 'node:url';
import { app } from 'electron';
import { readPageFiles } from '../page/page-files.ts';
import { builtPages, type PageSource, pagesUnderWork } from '../page/page-source.ts';
import { stateFolder } from '../projects/state-folder.ts';
import { makeHostParts } from '../services/host-parts.ts';
import { DEMO_NAME } from '../services/services.ts';
import { sayFatal } from './native-dialogs.ts';
import { runDesktop } from './run-desktop.ts';

const say = (sentence: string) => process.stderr.write(`${sentence}\n`);
/** The bundler leaves this entry in `main`, beside `preload` and `renderer`. */
const built = (path: string) => fileURLToPath(new URL(path, import.meta.url));
/** Put in by the build: only a development build may take its page from the build tool's server. */
const developing = process.env.RUNLEDGER_DEVELOPMENT === 'yes';

async function pages(): Promise<PageSource> {
  const server = process.env.ELECTRON_RENDERER_URL;
  if (developing && server) return pagesUnderWork(server);
  return builtPages(await readPageFiles(built('../renderer')));
}

function endWith(fault: unknown): void {
  const what = fault instanceof Error ? fault.message : String(fault);
  say(`runledger: a fault of ours (${what}). Please report it.`);
  sayFatal(what);
  app.exit(70);
}

const folder = stateFolder();
process.on('uncaughtException', endWith);
process.on('unhandledRejection', endWith);
runDesktop({
  // Started from a checkout, the first word is this file; installed, there is none before the words.
  argv: process.argv.slice(app.isPackaged ? 1 : 2),
  userFolder: process.env.INIT_CWD ?? process.cwd(),
  stateFolder: folder,
  parts: makeHostParts({
    version: process.env.RUNLEDGER_VERSION ?? 'development',
    stateFolder: folder,
    demoPath: built(`./${DEMO_NAME}`),
    warn: say,
  }),
  preloadPath: built('../preload/preload.cjs'),
  pages,
  developing,
  say,
}).catch(endWith);
