/** The one window. */
import { BrowserWindow, screen } from 'electron';
import type { HostEvent } from '../../src-shared/contract/host-events.ts';
import type { StateFile } from '../projects/state-file.ts';
import { EVENT_CHANNEL } from '../shell/channels.ts';
import { WINDOW_ADDRESS } from '../shell/own-address.ts';
import { placeWindow, type WindowState } from '../shell/window-bounds.ts';
import { windowOptions } from '../shell/window-options.ts';

/** Moves and sizes settle before they are kept. */
const KEEP_MS = 500;

function workAreas() {
  const primary = screen.getPrimaryDisplay();
  const others = screen.getAllDisplays().filter(({ id }) => id !== primary.id);
  return [primary, ...others].map(({ workArea }) => workArea);
}

function keepState(window: BrowserWindow, file: StateFile<WindowState>): void {
  let timer: ReturnType<typeof setTimeout> | null = null;
  const keep = () => {
    timer = null;
    if (window.isDestroyed() || window.isMinimized() || window.isFullScreen()) return;
    const bounds = window.getNormalBounds();
    const maximised = window.isMaximized();
    void file.change((now) => ({ ...now, bounds, maximised }));
  };
  const later = () => {
    if (timer !== null) clearTimeout(timer);
    timer = setTimeout(keep, KEEP_MS);
  };
  window.on('resize', later);
  window.on('move', later);
  window.on('maximize', later);
  window.on('unmaximize', later);
  window.on('close', keep);
}

/** Makes the window where it stood, and shows it when its page has something to show. */
export async function openWindow(
  stateFile: StateFile<WindowState>,
  preload: string,
  developing: boolean,
): Promise<BrowserWindow> {
  const state = await stateFile.read();
  const bounds = placeWindow(state.bounds, workAreas());
  const window = new BrowserWindow(windowOptions(bounds, preload, developing));
  if (state.maximised) window.maximize();
  window.once('ready-to-show', () => window.show());
  // The title is told by the window, not taken from the page.
  window.on('page-title-updated', (event) => event.preventDefault());
  keepState(window, stateFile);
  return window;
}

export function loadPage(window: BrowserWindow): Promise<void> {
  return window.loadURL(WINDOW_ADDRESS);
}

export function tellWindow(window: BrowserWindow | null, event: HostEvent): void {
  if (window === null || window.isDestroyed()) return;
  window.webContents.send(EVENT_CHANNEL, event);
}

export function bringForward(window: BrowserWindow | null): void {
  if (window === null || window.isDestroyed()) return;
  if (window.isMinimized()) window.restore();
  window.show();
  window.focus();
}
