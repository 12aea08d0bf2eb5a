/** The desktop shell put together: services, window, menu, and what goes between them. */
import { dirname, join } from 'node:path';
import { app, type BrowserWindow, session } from 'electron';
import type { WindowCommand } from '../../src-shared/contract/window-commands.ts';
import type { PageSource } from '../page/page-source.ts';
import { StateFile } from '../projects/state-file.ts';
import type { DiskFile } from '../services/disk-file.ts';
import type { Frame } from '../services/frame.ts';
import type { CommonParts } from '../services/host-parts.ts';
import { leaveByDialog } from '../services/leave-by-dialog.ts';
import { answered, refused } from '../services/reasons.ts';
import { createServices } from '../services/services.ts';
import { Arrivals } from '../shell/arrivals.ts';
import { closeQuestion, pageGoneQuestion } from '../shell/dialog-words.ts';
import { LeaveFlow, type PageState } from '../shell/leave-flow.ts';
import { recentLabels } from '../shell/menu-template.ts';
import { offeredPath } from '../shell/offered-path.ts';
import { noWindowState, windowStateSchema } from '../shell/window-bounds.ts';
import { PARTITION } from '../shell/window-options.ts';
import { showMenu } from './app-menu.ts';
import { guardSession, servePages } from './guard-session.ts';
import { openBorder } from './ipc-border.ts';
import { bringForward, loadPage, openWindow, tellWindow } from './main-window.ts';
import { askNatively, chooseOpenPath, chooseSavePath } from './native-dialogs.ts';
import { printPage } from './print-page.ts';

export interface DesktopOptions {
  readonly parts: CommonParts;
  readonly stateFolder: string;
  readonly pages: PageSource;
  readonly preloadPath: string;
  readonly startWithDemo: boolean;
  readonly developing: boolean;
}

const NO_WINDOW = refused('no-window', 'There is no window.', 'desktop shell', 'Start again.');

export class Desktop {
  readonly #options: DesktopOptions;
  readonly #arrivals = new Arrivals((event) => tellWindow(this.#window, event));
  readonly #leaving: LeaveFlow;
  #window: BrowserWindow | null = null;
  #page: PageState = 'none';
  #commands: ReadonlySet<WindowCommand> = new Set();
  #recent: readonly DiskFile[] = [];

  constructor(options: DesktopOptions) {
    this.#options = options;
    this.#leaving = new LeaveFlow({
      ask: () => {
        bringForward(this.#window);
        tellWindow(this.#window, { kind: 'may-leave' });
      },
      page: () => this.#page,
      askNatively: (cause) => askNatively(this.#window, closeQuestion[cause]),
      close: () => this.#window?.destroy(),
      loadAgain: () => this.#window?.webContents.reload(),
    });
  }

  /** Opens the window. To be called once, when Electron is ready. */
  async open(): Promise<void> {
    const { parts, pages, preloadPath, developing, stateFolder } = this.#options;
    const own = session.fromPartition(PARTITION);
    guardSession(own, pages.connectTo);
    servePages(own, pages);
    const { store, disk, recent } = parts;
    const handlers = createServices({
      ...parts,
      host: 'desktop',
      frame: this.#frame(),
      leave: leaveByDialog({ disk, recent, choosePath: (name, ext) => this.#savePath(name, ext) }),
      launchFile: () => this.#arrivals.launchFile(),
      startWithDemo: this.#options.startWithDemo,
      remarks: () => [...parts.remarks(), ...this.#arrivals.refusals()],
    });
    openBorder(handlers, { store, disk }, () => this.#window?.webContents ?? null);
    recent.onChange = (files) => this.#showRecent(files);
    this.#showMenu();
    void recent.tell();
    const windowState = new StateFile({
      path: join(stateFolder, 'window.json'),
      schema: windowStateSchema,
      empty: noWindowState,
      title: 'The file that keeps where the window stood',
      told: ({ what }) => parts.warn(what),
    });
    const window = await openWindow(windowState, preloadPath, developing);
    this.#window = window;
    this.#follow(window);
    await loadPage(window).catch((fault: unknown) => {
      // Closed while it was loading: nothing is wrong.
      if (!window.isDestroyed()) throw fault;
    });
  }

  /** Opens a file from outside the window; one that cannot be opened is told of. */
  async arrive(path: string): Promise<void> {
    bringForward(this.#window);
    const admitted = await this.#options.parts.disk.admit(path);
    if (admitted.ok) this.#arrivals.arrive(admitted.value);
    else this.#arrivals.refuse(admitted.reason);
  }

  bringForward(): void {
    bringForward(this.#window);
  }

  #follow(window: BrowserWindow): void {
    window.on('close', (event) => {
      if (!this.#leaving.mayClose()) event.preventDefault();
    });
    window.on('closed', () => {
      this.#window = null;
    });
    window.webContents.on('did-finish-load', () => {
      this.#page = 'runs';
    });
    window.webContents.on('render-process-gone', (_event, { reason }) => {
      this.#page = 'gone';
      if (reason !== 'clean-exit') void this.#pageGone(window);
    });
  }

  async #pageGone(window: BrowserWindow): Promise<void> {
    if (this.#leaving.pageGone()) return;
    if (await askNatively(window, pageGoneQuestion)) return;
    if (!window.isDestroyed()) window.webContents.reload();
  }

  #frame(): Frame {
    return {
      chooseFile: async ({ what }) =>
        this.#window === null ? NO_WINDOW : answered(await chooseOpenPath(this.#window, what)),
      told: ({ title, unsaved, commands }) => {
        this.#window?.setTitle(title);
        // The dot in the cross is macOS's own; the title says it everywhere.
        if (process.platform === 'darwin') this.#window?.setDocumentEdited(unsaved);
        this.#commands = new Set(commands);
        this.#showMenu();
      },
      leave: (answer) => this.#leaving.answered(answer),
      print: async () => (this.#window === null ? NO_WINDOW : printPage(this.#window.webContents)),
    };
  }

  async #savePath(offered: string, extension: string): Promise<string | null> {
    if (this.#window === null) return null;
    const path = offeredPath(offered, this.#recent[0]?.path ?? null);
    return chooseSavePath(this.#window, path, extension);
  }

  #showRecent(files: readonly DiskFile[]): void {
    this.#recent = files;
    const [newest] = files;
    if (newest !== undefined) app.addRecentDocument(newest.path);
    this.#showMenu();
  }

  #showMenu(): void {
    const recent = this.#recent.map(({ file, path }) => ({ ...file, folder: dirname(path) }));
    showMenu(
      {
        platform: process.platform,
        commands: this.#commands,
        recent: recentLabels(recent),
        developing: this.#options.developing,
      },
      {
        command: (command) => tellWindow(this.#window, { kind: 'command', command }),
        recent: (fileId) => {
          const chosen = this.#recent.find(({ file }) => file.fileId === fileId);
          if (chosen !== undefined) tellWindow(this.#window, { kind: 'open', file: chosen.file });
        },
      },
    );
  }
}
