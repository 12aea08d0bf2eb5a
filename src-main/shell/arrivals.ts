/** Files that come from outside the window: the command line, the system, a second start. */
import { z } from 'zod';
import type { HostEvent } from '../../src-shared/contract/host-events.ts';
import type { HeldFile, Reason } from '../../src-shared/contract/requests.ts';

/** What a second start hands over to the first. */
const handedOver = z.strictObject({ file: z.string().min(1).max(4096).nullable() });
export type HandedOver = z.infer<typeof handedOver>;

/** Absolute path of the file a second start was given; null: none, or not of its form. */
export function fileHandedOver(data: unknown): string | null {
  const read = handedOver.safeParse(data);
  return read.success ? read.data.file : null;
}

/**
 * The latest file wins while there is no window yet; after that each is told to the window, and so
 * is one that cannot be opened.
 */
export class Arrivals {
  readonly #tell: (event: HostEvent) => void;
  #first: HeldFile | null = null;
  readonly #refusals: Reason[] = [];
  #started = false;

  constructor(tell: (event: HostEvent) => void) {
    this.#tell = tell;
  }

  arrive(file: HeldFile): void {
    this.#first = file;
    if (this.#started) this.#tell({ kind: 'open', file });
  }

  refuse(reason: Reason): void {
    if (this.#started) this.#tell({ kind: 'refused', reason });
    else this.#refusals.push(reason);
  }

  /** For `app.start`: what to begin with. A page that is loaded again begins with the latest. */
  launchFile(): HeldFile | null {
    this.#started = true;
    return this.#first;
  }

  /** For `app.start`: what could not be opened before the window was there; said once. */
  refusals(): readonly Reason[] {
    return this.#refusals.splice(0);
  }
}
