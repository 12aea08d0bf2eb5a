/** The shell as its entry starts it, over the stub of Electron, with a state folder of its own. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type RunOptions, runDesktop } from '../../src-main/electron/run-desktop.ts';
import type { CommonParts } from '../../src-main/services/host-parts.ts';
import { ASK_CHANNEL, EVENT_CHANNEL } from '../../src-main/shell/channels.ts';
import type { HostEvent } from '../../src-shared/contract/host-events.ts';
import type { Answer, Question, RequestName } from '../../src-shared/contract/requests.ts';
import { makeParts, pages } from '../contract/hosts.ts';
import { BrowserWindow, invoke, resetStub } from './electron-stub.ts';

export interface Shell {
  readonly folder: string;
  readonly said: string[];
  readonly parts: CommonParts;
  readonly window: () => BrowserWindow;
  /** Asks as the window's page does. */
  ask<N extends RequestName>(name: N, question: Question<N>): Promise<Answer<N>>;
  /** What the shell has told the window so far. */
  events(): HostEvent[];
  remove(): void;
}

export interface ShellOptions extends Partial<RunOptions> {
  /** Keeps the stub as it is: a second start beside the first. */
  readonly beside?: boolean;
}

/** Runs the entry with these words; files they name count from the state folder. */
export async function openShell(
  argv: readonly string[] = [],
  options: ShellOptions = {},
): Promise<Shell> {
  const { beside = false, ...given } = options;
  if (!beside) resetStub();
  const folder = given.stateFolder ?? mkdtempSync(join(tmpdir(), 'runledger-shell-'));
  const said: string[] = [];
  const parts = given.parts ?? makeParts(folder, said);
  await runDesktop({
    argv,
    userFolder: folder,
    stateFolder: folder,
    preloadPath: join(folder, 'preload.cjs'),
    pages: async () => pages,
    developing: false,
    say: (sentence) => said.push(sentence),
    ...given,
    parts,
  });
  // The recent files come into the menu by themselves, at once unless a share does not answer.
  await Promise.race([parts.recent.tell(), new Promise((resolve) => setTimeout(resolve, 500))]);
  const window = () => {
    const last = BrowserWindow.all.at(-1);
    if (last === undefined) throw new Error('no window');
    return last;
  };
  return {
    folder,
    said,
    parts,
    window,
    ask: (name, question) => invoke(ASK_CHANNEL, [name, question]) as never,
    events: () => {
      const sent = window().webContents.sent;
      return sent.flatMap((s) => (s.channel === EVENT_CHANNEL ? [s.message as HostEvent] : []));
    },
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}
