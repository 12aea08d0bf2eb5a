/** What the window needs of whoever hosts it: the loopback host today, the desktop shell later. */
import type {
  Answer,
  HeldFile,
  Output,
  Question,
  Reason,
  RequestName,
} from '../../src-shared/contract/requests.ts';

export type Held =
  | { readonly ok: true; readonly value: HeldFile }
  | { readonly ok: false; readonly reason: Reason };

export interface Host {
  /** Asks one request of the contract. Never throws: a host out of reach is a reason too. */
  readonly ask: <N extends RequestName>(name: N, question: Question<N>) => Promise<Answer<N>>;
  /** Gives the host the bytes of a file the user chose. */
  readonly hold: (file: File) => Promise<Held>;
  /** Lets bytes leave: a download here, a save dialog in a shell. */
  readonly deliver: (output: Output) => void;
}
