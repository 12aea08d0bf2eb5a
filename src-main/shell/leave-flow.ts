/**
 * Closing the window: it is asked, and asks the user about unsaved work itself. One that does not
 * even say that it is asking, or whose page is gone, is spoken for by a native question.
 */
import type { Question } from '../../src-shared/contract/requests.ts';

/** How long the window may take to say that it is asking. */
export const SILENT_MS = 3_000;

/** `none`: not loaded so far, so there is nothing to lose. */
export type PageState = 'none' | 'runs' | 'gone';

export type NativeCause = 'silent' | 'gone';

export interface LeaveParts {
  /** Sends `may-leave` to the window. */
  readonly ask: () => void;
  readonly page: () => PageState;
  /** Asks the user by a native dialog whether to close all the same. */
  readonly askNatively: (cause: NativeCause) => Promise<boolean>;
  readonly close: () => void;
  /** Loads a page that is gone again. */
  readonly loadAgain: () => void;
}

export class LeaveFlow {
  readonly #parts: LeaveParts;
  #state: 'open' | 'asked' | 'asking' | 'native' | 'leaving' = 'open';
  #timer: ReturnType<typeof setTimeout> | null = null;

  constructor(parts: LeaveParts) {
    this.#parts = parts;
  }

  /** The window is to be closed. True: it may be at once. */
  mayClose(): boolean {
    if (this.#state === 'leaving') return true;
    if (this.#state === 'asked' || this.#state === 'native') return false;
    if (this.#parts.page() === 'none') return true;
    if (this.#parts.page() === 'gone') {
      void this.#native('gone');
      return false;
    }
    // Asked again while its question stands, the window only says that it is asking.
    this.#state = 'asked';
    this.#stopTimer();
    this.#timer = setTimeout(() => void this.#native('silent'), SILENT_MS);
    this.#parts.ask();
    return false;
  }

  /** The window's answer. */
  answered(answer: Question<'app.leave'>['answer']): void {
    if (this.#state === 'open' || this.#state === 'leaving') return;
    if (answer === 'asking') {
      if (this.#state !== 'asked') return;
      this.#stopTimer();
      this.#state = 'asking';
    } else if (answer === 'leave') this.#leave();
    else this.#stay();
  }

  /** The page is gone: if it was being asked, it will not answer any more. */
  pageGone(): boolean {
    if (this.#state !== 'asked' && this.#state !== 'asking') return false;
    void this.#native('gone');
    return true;
  }

  async #native(cause: NativeCause): Promise<void> {
    this.#stopTimer();
    this.#state = 'native';
    const close = await this.#parts.askNatively(cause);
    if (this.#state !== 'native') return;
    if (close) return this.#leave();
    this.#stay();
    // Kept open with nothing in it, the window would be of no use.
    if (cause === 'gone') this.#parts.loadAgain();
  }

  #leave(): void {
    this.#stopTimer();
    this.#state = 'leaving';
    this.#parts.close();
  }

  #stay(): void {
    this.#stopTimer();
    this.#state = 'open';
  }

  #stopTimer(): void {
    if (this.#timer !== null) clearTimeout(this.#timer);
    this.#timer = null;
  }
}
