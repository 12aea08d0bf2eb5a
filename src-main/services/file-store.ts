/** Bytes the host holds for the window, by opaque ids, in memory. */
import { randomBytes } from 'node:crypto';
import type { HeldFile, Output } from '../../src-shared/contract/requests.ts';
import { type Refused, refused } from './reasons.ts';

export interface HeldBytes {
  readonly name: string;
  readonly bytes: Uint8Array;
}

export type Held = { readonly ok: true; readonly file: HeldFile } | Refused;

/** An id nobody can guess: 144 random bits. */
export function opaqueId(): string {
  return randomBytes(18).toString('base64url');
}

/** Outputs kept for a download that is asked for again; older ones make room. */
const MOST_OUTPUTS = 4;

/** Uploads, sources taken out of projects, and outputs on their way out. */
export class FileStore {
  readonly #files = new Map<string, HeldBytes>();
  readonly #outputs = new Map<string, HeldBytes>();
  readonly #capBytes: number;
  #heldBytes = 0;

  constructor(capBytes = 600_000_000) {
    this.#capBytes = capBytes;
  }

  /** Holds bytes until they are released; refused when all of them together pass the cap. */
  put(name: string, bytes: Uint8Array): Held {
    if (this.#heldBytes + bytes.length > this.#capBytes) {
      return refused(
        'store-full',
        'Too many files are open at once.',
        name,
        'Save your work, end Runledger and start it again.',
      );
    }
    const fileId = opaqueId();
    this.#files.set(fileId, { name, bytes });
    this.#heldBytes += bytes.length;
    return { ok: true, file: { fileId, name } };
  }

  get(fileId: string): HeldBytes | null {
    return this.#files.get(fileId) ?? null;
  }

  /** Forgets bytes; an id that is not known is forgotten already. */
  release(fileId: string): void {
    const held = this.#files.get(fileId);
    if (held === undefined) return;
    this.#files.delete(fileId);
    this.#heldBytes -= held.bytes.length;
  }

  putOutput(name: string, bytes: Uint8Array): Output {
    const outputId = opaqueId();
    this.#outputs.set(outputId, { name, bytes });
    for (const id of this.#outputs.keys()) {
      if (this.#outputs.size <= MOST_OUTPUTS) break;
      this.#outputs.delete(id);
    }
    return { outputId, name, bytes: bytes.length };
  }

  getOutput(outputId: string): HeldBytes | null {
    return this.#outputs.get(outputId) ?? null;
  }
}
