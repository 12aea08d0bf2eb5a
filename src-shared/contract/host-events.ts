/** What a host tells the window of its own accord. The loopback host tells nothing. */
import type { HeldFile, Reason } from './requests.ts';
import type { WindowCommand } from './window-commands.ts';

export type HostEvent =
  /** A command of the menu, by click or accelerator. */
  | { readonly kind: 'command'; readonly command: WindowCommand }
  /** Open this file: chosen among the recent ones, or given to a second start of the program. */
  | { readonly kind: 'open'; readonly file: HeldFile }
  /** A file from outside the window could not be opened. */
  | { readonly kind: 'refused'; readonly reason: Reason }
  /** The user wants to close the window: `app.leave` with `asking` at once, then after the usual question. */
  | { readonly kind: 'may-leave' };
