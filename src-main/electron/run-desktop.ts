/** From the command line to the window: words, single instance, files that come from the system. */
import { resolve } from 'node:path';
import { app, session } from 'electron';
import type { PageSource } from '../page/page-source.ts';
import type { CommonParts } from '../services/host-parts.ts';
import { findNamedFile } from '../services/named-file.ts';
import { fileHandedOver, type HandedOver } from '../shell/arrivals.ts';
import { readStartWords, START_HELP } from '../start/start-words.ts';
import { Desktop } from './desktop.ts';
import { guardContents } from './guard-contents.ts';
import { guardSession } from './guard-session.ts';
import { prepareApp } from './prepare-app.ts';

export interface RunOptions {
  /** The words behind the program. */
  readonly argv: readonly string[];
  /** Relative paths count from here. */
  readonly userFolder: string;
  readonly stateFolder: string;
  readonly parts: CommonParts;
  readonly preloadPath: string;
  readonly pages: () => Promise<PageSource>;
  readonly developing: boolean;
  readonly say: (sentence: string) => void;
}

/** Guards every session and page there will ever be, also those nobody means to open. */
function guardEverything(connectTo: () => readonly string[]): void {
  app.on('session-created', (made) => guardSession(made, connectTo()));
  app.on('web-contents-created', (_event, contents) => guardContents(contents));
}

/** Opens the window, or ends the program with one message. Resolves when the page is loaded. */
export async function runDesktop(options: RunOptions): Promise<void> {
  const { argv, userFolder, stateFolder, parts, preloadPath, developing, say } = options;
  const read = readStartWords(argv);
  if (!read.ok) {
    say(read.message);
    return app.exit(2);
  }
  const { words } = read;
  if (words.help) {
    process.stdout.write(START_HELP);
    return app.exit(0);
  }
  prepareApp(stateFolder, developing);
  /** Origins a page under development may connect to; known before its session is made. */
  let connectTo: readonly string[] = [];
  guardEverything(() => connectTo);
  let desktop: Desktop | null = null;
  const early: string[] = [];
  const arrive = (path: string) => {
    if (desktop === null) early.push(path);
    else void desktop.arrive(path);
  };
  app.on('open-file', (event, path) => {
    event.preventDefault();
    arrive(path);
  });
  app.on('window-all-closed', () => app.quit());

  let named: string | null = null;
  if (words.file !== null) {
    const found = await findNamedFile(parts.disk, words.file, userFolder);
    if (!found.ok) {
      say(found.message);
      return app.exit(2);
    }
    named = resolve(userFolder, words.file);
  }
  const data: HandedOver = { file: named };
  if (developing) {
    // The build tool ends this one and starts the next at once: neither asks, neither waits.
    process.once('SIGTERM', () => app.exit(0));
  } else if (!app.requestSingleInstanceLock(data)) {
    say(`Runledger is open already${named === null ? '' : '; it was given the file'}.`);
    return app.exit(0);
  }
  app.on('second-instance', (_event, _argv, _folder, handed) => {
    const path = fileHandedOver(handed);
    if (path === null) desktop?.bringForward();
    else arrive(path);
  });

  await app.whenReady();
  guardSession(session.defaultSession, []);
  const pages = await options.pages();
  connectTo = pages.connectTo;
  const startWithDemo = words.demo;
  const opened = new Desktop({ parts, stateFolder, pages, preloadPath, startWithDemo, developing });
  if (named !== null) await opened.arrive(named);
  // One that comes meanwhile is not left behind.
  for (let path = early.shift(); path !== undefined; path = early.shift()) {
    await opened.arrive(path);
  }
  desktop = opened;
  await opened.open();
}
