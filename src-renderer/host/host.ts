/** What the window needs of whoever hosts it: the loopback host or the desktop shell. */
import type { HostEvent } from '../../src-shared/contract/host-events.ts';
import type {
  Answer,
  HeldFile,
  Left,
  Question,
  Reason,
  RequestName,
} from '../../src-shared/contract/requests.ts';

export type Held =
  | { readonly ok: true; readonly value: HeldFile }
  | { readonly ok: false; readonly reason: Reason };

export interface Host {
  readonly kind: 'loopback' | 'desktop';
  /** Asks one request of the contract. Never throws: a host out of reach is a reason too. */
  readonly ask: <N extends RequestName>(name: N, question: Question<N>) => Promise<Answer<N>>;
  /** Gives the host a file the user dropped or chose in the page. */
  readonly hold: (file: File) => Promise<Held>;
  /** Lets the user choose a file. Null: none. To be called straight from a click or a key. */
  readonly choose: (what: 'any' | 'schedule') => Promise<Answer<'file.choose'>>;
  /** Sees bytes out that the host holds ready: a download here, nothing more to do in the shell. */
  readonly deliver: (left: Left) => void;
  /** Prints the page by the system's dialog. */
  readonly print: () => Promise<Answer<'app.print'>>;
  /** Hears what the host tells of its own accord. Returns the way to stop. */
  readonly onEvent: (listener: (event: HostEvent) => void) => () => void;
}

/** Said when nobody answers. */
export const outOfReach = {
  ok: false,
  reason: {
    code: 'no-host',
    what: 'The program behind this window does not answer.',
    where: 'this computer',
    todo: 'Start Runledger again; unsaved work is kept in this window and in its recovery copy.',
  },
} as const;
