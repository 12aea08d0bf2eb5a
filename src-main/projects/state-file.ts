/** A small JSON file of the host's own in the state folder: read whole, written safely. */
import { mkdir, readFile, rename } from 'node:fs/promises';
import { dirname } from 'node:path';
import type { z } from 'zod';
import type { Reason } from '../../src-shared/contract/requests.ts';
import { type SaveOutcome, saveFile } from './save-file.ts';
import { errorCode, nodeSaveFs, type SaveFs } from './save-fs.ts';

/** No file of this kind comes near; a larger one is damaged. */
const MOST_BYTES = 20_000_000;

export interface StateFileOptions<T> {
  readonly path: string;
  readonly schema: z.ZodType<T>;
  /** What holds while there is no file. */
  readonly empty: T;
  /** What it holds, for messages: `The list of recent files`. */
  readonly title: string;
  /** Told of a damaged file, once it was set aside. */
  readonly told: (reason: Reason) => void;
  readonly fs?: SaveFs;
}

export class StateFile<T> {
  readonly #options: StateFileOptions<T>;
  #queue: Promise<unknown> = Promise.resolve();

  constructor(options: StateFileOptions<T>) {
    this.#options = options;
  }

  /** What it holds now. A damaged file is set aside as `….damaged` and told of. Never rejects. */
  read(): Promise<T> {
    return this.#inTurn(async () => (await this.#read()) ?? this.#options.empty);
  }

  /** Reads, changes, writes, with nothing of this program between. Never rejects. */
  change(change: (value: T) => T): Promise<SaveOutcome> {
    return this.#inTurn(async () => {
      const { path, fs = nodeSaveFs } = this.#options;
      const before = await this.#read();
      // What cannot be read now is not replaced: it may be read again later.
      if (before === null) {
        return { ok: false, reason: this.#reason('unreadable', 'cannot be read.') };
      }
      const value = change(before);
      try {
        await mkdir(dirname(path), { recursive: true, mode: 0o700 });
      } catch (fault) {
        return {
          ok: false,
          reason: this.#reason('not-kept', `cannot be kept (${errorCode(fault)}).`),
        };
      }
      const bytes = Buffer.from(`${JSON.stringify(value)}\n`);
      return saveFile(path, bytes, { mode: 0o600, fs });
    });
  }

  #inTurn<R>(work: () => Promise<R>): Promise<R> {
    const turn = this.#queue.then(work, work);
    this.#queue = turn.catch(() => undefined);
    return turn;
  }

  /** Null: it is there and cannot be read, which is told. */
  async #read(): Promise<T | null> {
    const { path, schema, empty } = this.#options;
    let bytes: Uint8Array;
    try {
      bytes = await readFile(path);
    } catch (fault) {
      if (errorCode(fault) === 'ENOENT') return empty;
      this.#options.told(this.#reason('unreadable', 'cannot be read.'));
      return null;
    }
    const value = bytes.length > MOST_BYTES ? null : parsed(bytes, schema);
    if (value !== null) return value.value;
    await this.#setAside();
    return empty;
  }

  async #setAside(): Promise<void> {
    const { path, told } = this.#options;
    const kept = await rename(path, `${path}.damaged`).then(
      () => ` It was set aside as ${path}.damaged.`,
      () => '',
    );
    told(this.#reason('damaged', `was damaged and begins anew.${kept}`));
  }

  #reason(code: string, what: string): Reason {
    const { title, path } = this.#options;
    return {
      code,
      what: `${title} ${what}`,
      where: path,
      todo: 'Your work is not touched by this.',
    };
  }
}

function parsed<T>(bytes: Uint8Array, schema: z.ZodType<T>): { readonly value: T } | null {
  try {
    const read = schema.safeParse(JSON.parse(Buffer.from(bytes).toString('utf8')));
    return read.success ? { value: read.data } : null;
  } catch {
    return null;
  }
}
