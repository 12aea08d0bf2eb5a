/** How to show an address: which program, with which words. */
import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';

export interface BrowserStart {
  readonly program: string;
  readonly words: readonly string[];
  /** What the person should know about it; null: nothing. */
  readonly note: string | null;
}

export interface Machine {
  readonly platform: NodeJS.Platform;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly isRoot: boolean;
  readonly exists: (path: string) => boolean;
}

/** Programs of the Chromium family, by the names they are installed under. */
const LINUX_NAMES = [
  'chromium',
  'chromium-browser',
  'google-chrome-stable',
  'google-chrome',
  'microsoft-edge-stable',
  'microsoft-edge',
];
const MAC_APPS = ['Chromium', 'Google Chrome', 'Microsoft Edge'];
const WINDOWS_PATHS = [
  ['Google', 'Chrome', 'Application', 'chrome.exe'],
  ['Chromium', 'Application', 'chrome.exe'],
  ['Microsoft', 'Edge', 'Application', 'msedge.exe'],
];

function onPath({ env, exists }: Machine, name: string): string | undefined {
  const folders = (env.PATH ?? '').split(delimiter).filter((folder) => folder !== '');
  return folders.map((folder) => join(folder, name)).find(exists);
}

function chromiumPath(machine: Machine): string | undefined {
  const { platform, env, exists } = machine;
  if (platform === 'darwin') {
    return MAC_APPS.map((app) => `/Applications/${app}.app/Contents/MacOS/${app}`).find(exists);
  }
  if (platform === 'win32') {
    const roots = [env.ProgramFiles, env['ProgramFiles(x86)'], env.LOCALAPPDATA];
    return roots
      .flatMap((root) => (root ? WINDOWS_PATHS.map((parts) => join(root, ...parts)) : []))
      .find(exists);
  }
  for (const name of LINUX_NAMES) {
    const path = onPath(machine, name);
    if (path !== undefined) return path;
  }
  return undefined;
}

function opener(machine: Machine, address: string): BrowserStart | null {
  if (machine.platform === 'darwin') return { program: 'open', words: [address], note: null };
  if (machine.platform === 'win32') {
    const program = join(machine.env.SystemRoot ?? 'C:\\Windows', 'System32', 'rundll32.exe');
    return { program, words: ['url.dll,FileProtocolHandler', address], note: null };
  }
  const program = onPath(machine, 'xdg-open');
  return program === undefined ? null : { program, words: [address], note: null };
}

function hasDisplay({ platform, env }: Machine): boolean {
  if (platform === 'darwin' || platform === 'win32') return true;
  return Boolean(env.DISPLAY) || Boolean(env.WAYLAND_DISPLAY);
}

export type FoundBrowser =
  | { readonly ok: true; readonly start: BrowserStart }
  | { readonly ok: false; readonly why: string };

/** A Chromium in a window of its own, else the system's way to open an address, else why neither. */
export function findBrowser(machine: Machine, address: string): FoundBrowser {
  if (!hasDisplay(machine)) return { ok: false, why: 'There is no display to open a browser on.' };
  const program = chromiumPath(machine);
  if (program === undefined) {
    const start = opener(machine, address);
    return start === null
      ? { ok: false, why: 'No browser was found on this machine.' }
      : { ok: true, start };
  }
  if (!machine.isRoot || machine.platform !== 'linux') {
    return { ok: true, start: { program, words: [`--app=${address}`], note: null } };
  }
  const note = 'Runs as root: Chromium is started without its sandbox, which it cannot use then.';
  return { ok: true, start: { program, words: ['--no-sandbox', `--app=${address}`], note } };
}

/** The machine this runs on. */
export function thisMachine(): Machine {
  return {
    platform: process.platform,
    env: process.env,
    isRoot: process.getuid?.() === 0,
    exists: (path) => {
      try {
        accessSync(path, constants.X_OK);
        return true;
      } catch {
        return false;
      }
    },
  };
}
