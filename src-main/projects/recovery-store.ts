/**
 * Recovery copies of unsaved work in a folder of the user's own: one file each, a whole project
 * with its source workbook, written in the order of a save, so that a kill leaves the copy before
 * or the copy after. The file's name says which process keeps it: copies of a program that still
 * runs elsewhere are not offered.
 */
import { randomBytes } from 'node:crypto';
import { chmod, mkdir, readdir, readFile, stat, unlink } from 'node:fs/promises';
import { join } from 'node:path';
import type { Reason, RecoveryOffer } from '../../src-shared/contract/requests.ts';
import { packProject } from './pack-project.ts';
import { processMark } from './process-mark.ts';
import type { SourceFile } from './project-parts.ts';
import { type SaveOutcome, saveFile } from './save-file.ts';
import { errorCode, nodeSaveFs, type SaveFs } from './save-fs.ts';
import { sweepTemporaries } from './temporary-file.ts';
import { packedLabel } from './unpack-project.ts';

export interface RecoveryContent {
  readonly name: string;
  readonly projectText: string;
  readonly sources: readonly SourceFile[];
}

export type Kept =
  | { readonly ok: true; readonly recoveryId: string }
  | { readonly ok: false; readonly reason: Reason };

export interface RecoveryStore {
  /** Copies this process kept or whose keeper is gone, newest first. */
  list(): Promise<readonly RecoveryOffer[]>;
  /** Keeps a copy; a known id replaces its copy, `null` or one dropped meanwhile makes a new one. */
  keep(recoveryId: string | null, content: RecoveryContent): Promise<Kept>;
  /** Drops a copy. An id that is not known is dropped already. */
  drop(recoveryId: string): Promise<void>;
  /** Bytes and label of a copy; null when there is none. */
  read(recoveryId: string): Promise<SourceFile | null>;
}

export interface RecoveryOptions {
  readonly folder: string;
  readonly appVersion: string;
  readonly fs?: SaveFs;
}

const FILE_NAME = /^([A-Za-z0-9_-]{8,64})~(\d{1,10})-([0-9a-f]{8})\.runledger$/;
const UNNAMED = 'Unsaved work';

async function namesIn(folder: string): Promise<readonly string[]> {
  try {
    return await readdir(folder);
  } catch (fault) {
    if (errorCode(fault) === 'ENOENT') return [];
    throw fault;
  }
}

class FolderRecoveryStore implements RecoveryStore {
  readonly #folder: string;
  readonly #appVersion: string;
  readonly #fs: SaveFs;
  /** File name of each copy by its id: an id from outside is only ever looked up here. */
  readonly #files = new Map<string, string>();
  #queue: Promise<unknown> = Promise.resolve();

  constructor({ folder, appVersion, fs = nodeSaveFs }: RecoveryOptions) {
    this.#folder = folder;
    this.#appVersion = appVersion;
    this.#fs = fs;
  }

  /** One after the other: a drop never overtakes the keep before it. */
  #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const turn = this.#queue.then(work, work);
    this.#queue = turn.catch(() => undefined);
    return turn;
  }

  list(): Promise<readonly RecoveryOffer[]> {
    return this.#inTurn(async () => {
      const offers: RecoveryOffer[] = [];
      await sweepTemporaries(this.#fs, this.#folder, null);
      for (const name of await namesIn(this.#folder)) {
        const [, recoveryId, pid, mark] = FILE_NAME.exec(name) ?? [];
        if (recoveryId === undefined || pid === undefined) continue;
        if (Number(pid) !== process.pid && processMark(Number(pid)) === mark) continue;
        const offer = await this.#offer(recoveryId, name);
        if (offer === null) continue;
        this.#files.set(recoveryId, name);
        offers.push(offer);
      }
      return offers.sort((a, b) => (a.keptAt < b.keptAt ? 1 : a.keptAt > b.keptAt ? -1 : 0));
    });
  }

  /** A damaged copy is offered too: opening it says what is wrong with it. */
  async #offer(recoveryId: string, file: string): Promise<RecoveryOffer | null> {
    const path = join(this.#folder, file);
    try {
      const { mtime } = await stat(path);
      const name = packedLabel(await readFile(path)) ?? `${UNNAMED} (damaged copy)`;
      return { recoveryId, name, keptAt: mtime.toISOString() };
    } catch (fault) {
      if (errorCode(fault) === 'ENOENT') return null;
      throw fault;
    }
  }

  keep(recoveryId: string | null, content: RecoveryContent): Promise<Kept> {
    return this.#inTurn(async (): Promise<Kept> => {
      const before = recoveryId === null ? undefined : this.#files.get(recoveryId);
      const known = before !== undefined && recoveryId !== null;
      const id = known ? recoveryId : randomBytes(18).toString('base64url');
      const name = `${id}~${process.pid}-${processMark(process.pid) ?? '00000000'}.runledger`;
      const saved = await this.#write(name, content);
      if (!saved.ok) return saved;
      this.#files.set(id, name);
      if (before !== undefined && before !== name) await this.#remove(before);
      return { ok: true, recoveryId: id };
    });
  }

  async #write(name: string, content: RecoveryContent): Promise<SaveOutcome> {
    const { projectText, sources, name: label } = content;
    try {
      await mkdir(this.#folder, { recursive: true, mode: 0o700 });
      await chmod(this.#folder, 0o700);
    } catch {
      const what = 'No recovery copy can be kept: its folder cannot be made.';
      const todo = 'Save your work now; it is not protected.';
      return { ok: false, reason: { code: 'no-recovery', what, where: this.#folder, todo } };
    }
    const packed = packProject({
      projectText,
      sources,
      appVersion: this.#appVersion,
      label: label || UNNAMED,
    });
    return saveFile(join(this.#folder, name), packed, { mode: 0o600, fs: this.#fs });
  }

  drop(recoveryId: string): Promise<void> {
    return this.#inTurn(async () => {
      const name = this.#files.get(recoveryId);
      if (name === undefined) return;
      this.#files.delete(recoveryId);
      await this.#remove(name);
    });
  }

  async #remove(name: string): Promise<void> {
    try {
      await unlink(join(this.#folder, name));
    } catch (fault) {
      if (errorCode(fault) !== 'ENOENT') throw fault;
    }
  }

  read(recoveryId: string): Promise<SourceFile | null> {
    return this.#inTurn(async () => {
      const file = this.#files.get(recoveryId);
      if (file === undefined) return null;
      const bytes = await readFile(join(this.#folder, file));
      return { name: packedLabel(bytes) ?? UNNAMED, bytes };
    });
  }
}

/** Recovery copies in `folder`, which is made at need and open to its owner only. */
export function createRecoveryStore(options: RecoveryOptions): RecoveryStore {
  return new FolderRecoveryStore(options);
}
