/** The file named at start: the only one the host knows by its path, and so can save in place. */
import { createHash } from 'node:crypto';
import { access, constants, readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import type { HeldFile, Reason } from '../../src-shared/contract/requests.ts';
import { keepBackup } from '../projects/backup-file.ts';
import { PROJECT_EXTENSION } from '../projects/project-parts.ts';
import { saveFile } from '../projects/save-file.ts';
import { errorCode, nodeSaveFs, type SaveFs } from '../projects/save-fs.ts';
import { opaqueId } from './file-store.ts';
import { answered, type Refused, refused } from './reasons.ts';

const UNDER_ANOTHER_NAME = 'Save as a new file; your work is still open.';

function digest(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('base64');
}

export class LaunchFile {
  readonly file: HeldFile;
  readonly #path: string;
  readonly #fs: SaveFs;
  /** Digest of what was last read or written here; null: not read yet. */
  #seen: string | null = null;
  /** Digest of what a failed save may have left here all the same. */
  #tried: string | null = null;
  /** The bytes as they were opened, to be kept as a backup before a newer format replaces them. */
  #older: Uint8Array | null = null;
  #queue: Promise<unknown> = Promise.resolve();

  /** @param path absolute, links not followed yet */
  constructor(path: string, fs: SaveFs = nodeSaveFs) {
    this.#path = path;
    this.#fs = fs;
    this.file = { fileId: opaqueId(), name: basename(path) };
  }

  /** The bytes as they stand on the disk now. */
  async read(): Promise<{ readonly ok: true; readonly value: Uint8Array } | Refused> {
    try {
      const bytes = await readFile(this.#path);
      this.#seen = digest(bytes);
      this.#older = null;
      return answered(bytes);
    } catch (fault) {
      const gone = errorCode(fault) === 'ENOENT';
      const what = gone ? 'The file is no longer there.' : 'The file cannot be read.';
      const todo = 'Look where it is now, and who may read it.';
      return refused(gone ? 'file-gone' : 'unreadable', what, this.#path, todo);
    }
  }

  /** To be called when the file that was read is of an older format. */
  keepOlder(bytes: Uint8Array): void {
    this.#older = bytes;
  }

  /** A project file that may be written. */
  async isWritable(): Promise<boolean> {
    if (!this.#path.toLowerCase().endsWith(PROJECT_EXTENSION)) return false;
    return access(this.#path, constants.W_OK).then(
      () => true,
      () => false,
    );
  }

  /** Replaces the file, unless someone else has changed it since it was read. */
  save(
    bytes: Uint8Array,
    selfCheck: (bytes: Uint8Array) => Reason | null,
  ): Promise<{ readonly ok: true } | Refused> {
    const work = () => this.#save(bytes, selfCheck);
    const turn = this.#queue.then(work, work);
    this.#queue = turn.catch(() => undefined);
    return turn;
  }

  async #save(
    bytes: Uint8Array,
    selfCheck: (bytes: Uint8Array) => Reason | null,
  ): Promise<{ readonly ok: true } | Refused> {
    if (!this.#path.toLowerCase().endsWith(PROJECT_EXTENSION)) {
      const what = 'Not saved. The file that was opened is not a project.';
      return refused('not-a-project', what, this.#path, UNDER_ANOTHER_NAME);
    }
    const changed = await this.#whyChanged();
    if (changed !== null) return changed;
    if (this.#older !== null) {
      const { outcome } = await keepBackup(this.#path, this.#older, this.#fs);
      if (!outcome.ok) return outcome;
    }
    this.#tried = digest(bytes);
    const saved = await saveFile(this.#path, bytes, { selfCheck, fs: this.#fs });
    if (saved.ok) {
      this.#seen = this.#tried;
      this.#older = null;
    }
    return saved;
  }

  async #whyChanged(): Promise<Refused | null> {
    try {
      const now = digest(await readFile(this.#path));
      if (now === this.#seen || now === this.#tried) return null;
    } catch (fault) {
      if (errorCode(fault) === 'ENOENT') return null;
      const what = 'Not saved. The file can no longer be read.';
      return refused('unreadable', what, this.#path, UNDER_ANOTHER_NAME);
    }
    const what = 'Not saved. The file was changed by another program since it was opened.';
    return refused('changed-on-disk', what, this.#path, UNDER_ANOTHER_NAME);
  }
}
