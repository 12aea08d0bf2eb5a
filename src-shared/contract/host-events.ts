/** What a host tells the window of its own accord. The loopback host tells nothing. */
import type { HeldFile } from './requests.ts';

/** What the shell's menu can ask of the window. */
export const windowCommands = [
  'new-job',
  'open',
  'open-demo',
  'save',
  'save-as',
  'export',
  'print',
  'undo',
  'redo',
  'import-report',
  'columns',
  'help',
  'about',
] as const;
export type WindowCommand = (typeof windowCommands)[number];

export type HostEvent =
  /** A command of the menu, by click or accelerator. */
  | { readonly kind: 'command'; readonly command: WindowCommand }
  /** Open this file: chosen among the recent ones, or given to a second start of the program. */
  | { readonly kind: 'open'; readonly file: HeldFile }
  /** The user wants to close the window; answer with `app.leave` after the usual question. */
  | { readonly kind: 'may-leave' };
