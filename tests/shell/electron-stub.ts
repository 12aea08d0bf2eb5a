/**
 * Stands in for the `electron` module: does nothing of its own, records every call, and lets a test
 * send what Electron would send. Put in by `vi.mock('electron', …)`.
 */
import { EventEmitter } from 'node:events';

export interface Call {
  readonly what: string;
  readonly args: readonly unknown[];
}

/** Every call of every part, in order. */
export const calls: Call[] = [];
const record = (what: string, ...args: unknown[]) => {
  calls.push({ what, args });
};
export const callsOf = (what: string) => calls.filter((call) => call.what === what);

/** Answers the dialogs will give, in turn; what they were asked is recorded. */
export const dialogAnswers = {
  open: [] as { canceled: boolean; filePaths: string[] }[],
  save: [] as { canceled: boolean; filePath: string }[],
  message: [] as number[],
};

export const displays = [
  { id: 1, workArea: { x: 0, y: 0, width: 1920, height: 1040 } },
  { id: 2, workArea: { x: 1920, y: 0, width: 1280, height: 984 } },
];

export interface Preventable {
  readonly preventDefault: () => void;
  readonly prevented: () => boolean;
}

/** An event that can be prevented, with whatever else it carries. */
export function anEvent<T extends object>(more: T): T & Preventable {
  let prevented = false;
  return {
    ...more,
    preventDefault: () => {
      prevented = true;
    },
    prevented: () => prevented,
  };
}

class StubSession extends EventEmitter {
  readonly handlers = new Map<string, (...args: never[]) => unknown>();
  readonly #take = (name: string) => (handler: (...args: never[]) => unknown) => {
    record(`session.${name}`, this.name);
    this.handlers.set(name, handler);
  };
  readonly setPermissionRequestHandler = this.#take('setPermissionRequestHandler');
  readonly setPermissionCheckHandler = this.#take('setPermissionCheckHandler');
  readonly setDevicePermissionHandler = this.#take('setDevicePermissionHandler');
  readonly setDisplayMediaRequestHandler = this.#take('setDisplayMediaRequestHandler');
  readonly setBluetoothPairingHandler = this.#take('setBluetoothPairingHandler');
  readonly webRequest = { onBeforeRequest: this.#take('onBeforeRequest') };
  readonly protocol = {
    handle: (scheme: string, handler: (request: Request) => Promise<Response>) => {
      record('protocol.handle', this.name, scheme);
      this.handlers.set(`protocol ${scheme}`, handler as never);
    },
  };
  constructor(readonly name: string) {
    super();
  }
  setSpellCheckerEnabled(on: boolean) {
    record('session.setSpellCheckerEnabled', this.name, on);
  }
}

const sessions = new Map<string, StubSession>();
function sessionOf(name: string): StubSession {
  const known = sessions.get(name);
  if (known !== undefined) return known;
  const made = new StubSession(name);
  sessions.set(name, made);
  app.emit('session-created', made);
  return made;
}
export const session = {
  fromPartition: (name: string) => {
    record('session.fromPartition', name);
    return sessionOf(name);
  },
  get defaultSession() {
    return sessionOf('');
  },
};

class StubContents extends EventEmitter {
  readonly id: number;
  readonly sent: { channel: string; message: unknown }[] = [];
  openHandler: ((details: { url: string }) => { action: string }) | null = null;
  printed: ((success: boolean, why: string) => void) | null = null;
  constructor(id: number) {
    super();
    this.id = id;
  }
  setWindowOpenHandler(handler: (details: { url: string }) => { action: string }) {
    this.openHandler = handler;
  }
  send(channel: string, message: unknown) {
    this.sent.push({ channel, message: structuredClone(message) });
  }
  print(options: unknown, done: (success: boolean, why: string) => void) {
    record('webContents.print', options);
    this.printed = done;
  }
  reload() {
    record('webContents.reload');
  }
}

export class BrowserWindow extends EventEmitter {
  static readonly all: BrowserWindow[] = [];
  readonly webContents = new StubContents(BrowserWindow.all.length + 1);
  readonly options: Record<string, unknown>;
  title = '';
  edited = false;
  maximised = false;
  destroyed = false;
  bounds: unknown;
  constructor(options: Record<string, unknown>) {
    super();
    record('new BrowserWindow', options);
    this.options = options;
    const { x, y, width, height } = options;
    this.bounds = { x, y, width, height };
    BrowserWindow.all.push(this);
    app.emit('web-contents-created', {}, this.webContents);
  }
  async loadURL(address: string) {
    record('loadURL', address);
    this.webContents.emit('did-finish-load');
    this.emit('ready-to-show');
  }
  /** What the user's click on the window's cross does. True: it was closed. */
  cross(): boolean {
    const event = anEvent({});
    this.emit('close', event);
    if (!event.prevented()) this.destroy();
    return event.prevented() === false;
  }
  destroy() {
    record('destroy');
    this.destroyed = true;
    this.emit('closed');
  }
  isDestroyed = () => this.destroyed;
  isMinimized = () => false;
  isFullScreen = () => false;
  isMaximized = () => this.maximised;
  getNormalBounds = () => this.bounds;
  setTitle(title: string) {
    this.title = title;
  }
  setDocumentEdited(edited: boolean) {
    this.edited = edited;
  }
  maximize() {
    this.maximised = true;
  }
  restore() {
    record('restore');
  }
  show() {
    record('show');
  }
  focus() {
    record('focus');
  }
}

class StubApp extends EventEmitter {
  isPackaged = false;
  hasLock = true;
  readonly paths = new Map<string, string>();
  readonly commandLine = {
    appendSwitch: (name: string, value?: string) => record('appendSwitch', name, value),
  };
  setName = (name: string) => record('app.setName', name);
  setPath = (name: string, path: string) => {
    record('app.setPath', name, path);
    this.paths.set(name, path);
  };
  enableSandbox = () => record('app.enableSandbox');
  exit = (code: number) => record('app.exit', code);
  quit = () => record('app.quit');
  addRecentDocument = (path: string) => record('app.addRecentDocument', path);
  requestSingleInstanceLock = (data: unknown) => {
    record('app.requestSingleInstanceLock', data);
    return this.hasLock;
  };
  whenReady = async () => {
    record('app.whenReady');
  };
}
export const app = new StubApp();

export const protocol = {
  registerSchemesAsPrivileged: (schemes: unknown) =>
    record('protocol.registerSchemesAsPrivileged', schemes),
};

type IpcHandler = (event: unknown, ...args: unknown[]) => unknown;
const ipcHandlers = new Map<string, IpcHandler>();
export const ipcMain = {
  handle: (channel: string, handler: IpcHandler) => {
    if (ipcHandlers.has(channel)) throw new Error(`${channel} has a handler already`);
    record('ipcMain.handle', channel);
    ipcHandlers.set(channel, handler);
  },
};

export interface StubSender {
  readonly sender: { readonly id: number };
  readonly senderFrame: { readonly url: string; readonly parent: object | null } | null;
}

/** As the window's own page asks. */
export function ownSender(address = 'runledger://window/'): StubSender {
  const id = BrowserWindow.all.at(-1)?.webContents.id ?? 0;
  return { sender: { id }, senderFrame: { url: address, parent: null } };
}

/** Asks on a channel as Electron carries it: copied both ways; one without a handler rejects. */
export async function invoke(
  channel: string,
  args: readonly unknown[],
  event: StubSender = ownSender(),
): Promise<unknown> {
  const handler = ipcHandlers.get(channel);
  if (handler === undefined) throw new Error(`No handler registered for '${channel}'`);
  return structuredClone(await handler(event, ...structuredClone(args)));
}
export const ipcChannels = () => [...ipcHandlers.keys()];

export const dialog = {
  showOpenDialog: async (_window: unknown, options: unknown) => {
    record('showOpenDialog', options);
    return dialogAnswers.open.shift() ?? { canceled: true, filePaths: [] };
  },
  showSaveDialog: async (_window: unknown, options: unknown) => {
    record('showSaveDialog', options);
    return dialogAnswers.save.shift() ?? { canceled: true, filePath: '' };
  },
  showMessageBox: async (...args: unknown[]) => {
    record('showMessageBox', args.at(-1));
    return { response: dialogAnswers.message.shift() ?? 1 };
  },
  showErrorBox: (title: string, words: string) => record('showErrorBox', title, words),
};

export interface StubMenuItem {
  readonly label?: string;
  readonly role?: string;
  readonly type?: string;
  readonly accelerator?: string;
  readonly enabled?: boolean;
  readonly submenu?: readonly StubMenuItem[];
  readonly click?: () => void;
}
let menu: readonly StubMenuItem[] = [];
export const Menu = {
  buildFromTemplate: (template: readonly StubMenuItem[]) => template,
  setApplicationMenu: (template: readonly StubMenuItem[]) => {
    menu = template;
  },
};
/** Every entry of the menu as it stands, submenus first to last. */
export function menuItems(within: readonly StubMenuItem[] = menu): StubMenuItem[] {
  return within.flatMap((item) => [item, ...menuItems(item.submenu ?? [])]);
}

export const screen = {
  getPrimaryDisplay: () => displays[0],
  getAllDisplays: () => displays,
};
export const shell = {
  openExternal: async (address: string) => record('openExternal', address),
};

/** For the preload script. */
const rendererListeners = new EventEmitter();
export const ipcRenderer = {
  invoke: (channel: string, ...args: unknown[]) => invoke(channel, args),
  on: (channel: string, listener: (...args: unknown[]) => void) =>
    rendererListeners.on(channel, listener),
  off: (channel: string, listener: (...args: unknown[]) => void) =>
    rendererListeners.off(channel, listener),
  /** As if the shell had sent. */
  arrive: (channel: string, message: unknown) => rendererListeners.emit(channel, {}, message),
};
export const exposed = new Map<string, Record<string, (...args: never[]) => unknown>>();
export const contextBridge = {
  exposeInMainWorld: (name: string, api: Record<string, (...args: never[]) => unknown>) => {
    exposed.set(name, api);
  },
};
/** Paths of files the user has dropped. */
export const pathsOfFiles = new Map<unknown, string>();
export const webUtils = { getPathForFile: (file: unknown) => pathsOfFiles.get(file) ?? '' };

/** Everything as at first. */
export function resetStub(): void {
  calls.length = 0;
  dialogAnswers.open.length = 0;
  dialogAnswers.save.length = 0;
  dialogAnswers.message.length = 0;
  BrowserWindow.all.length = 0;
  ipcHandlers.clear();
  sessions.clear();
  app.removeAllListeners();
  app.hasLock = true;
  menu = [];
}
