/** A file the host knows by its path, and so can read again and save in place. */
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

export interface DiskSave {
  readonly bytes: Uint8Array;
  readonly selfCheck: (bytes: Uint8Array) => Reason | null;
  /** Replace the file whatever stands there now: the user was asked. */
  readonly overwrite: boolean;
}

export type Saved = { readonly ok: true } | Refused;

function digest(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('base64');
}

/** What all openings of one path have in common. */
interface Common {
  /** The bytes as they were opened, to be kept as a backup before a newer format replaces them. */
  older: Uint8Array | null;
  queue: Promise<unknown>;
}

export class DiskFile {
  readonly file: HeldFile;
  readonly path: string;
  readonly #fs: SaveFs;
  readonly #common: Common;
  /** Digest of what was last opened or written by this opening; null: not opened yet. */
  #seen: string | null = null;
  /** Digest of what a failed save may have left here all the same. */
  #tried: string | null = null;

  /** @param path absolute, links not followed yet */
  constructor(path: string, fs: SaveFs = nodeSaveFs, common?: Common) {
    this.path = path;
    this.#fs = fs;
    this.#common = common ?? { older: null, queue: Promise.resolve() };
    this.file = { fileId: opaqueId(), name: basename(path) };
  }

  /**
   * The same file under an id of its own, for one job that is opened from it or saved to it: what
   * this job has seen there is not what another window has.
   */
  opening(): DiskFile {
    return new DiskFile(this.path, this.#fs, this.#common);
  }

  /** The bytes as they stand on the disk now. */
  async read(): Promise<{ readonly ok: true; readonly value: Uint8Array } | Refused> {
    try {
      return answered(await readFile(this.path));
    } catch (fault) {
      const gone = errorCode(fault) === 'ENOENT';
      const what = gone ? 'The file is no longer there.' : 'The file cannot be read.';
      const todo = 'Look where it is now, and who may read it.';
      return refused(gone ? 'file-gone' : 'unreadable', what, this.path, todo);
    }
  }

  /**
   * To be called when what was read has been opened: a later save replaces these bytes only.
   * @param isOlder they are of an earlier format, to be kept as a backup when they are replaced
   */
  opened(bytes: Uint8Array, isOlder: boolean): void {
    this.#seen = digest(bytes);
    this.#tried = null;
    this.#common.older = isOlder ? bytes : null;
  }

  /** A project file that may be written. */
  async isWritable(): Promise<boolean> {
    if (!this.path.toLowerCase().endsWith(PROJECT_EXTENSION)) return false;
    return access(this.path, constants.W_OK).then(
      () => true,
      () => false,
    );
  }

  /** Replaces a project file, unless someone else has changed it since it was opened. */
  save(save: DiskSave): Promise<Saved> {
    return this.#inTurn(async () => {
      if (!this.path.toLowerCase().endsWith(PROJECT_EXTENSION)) {
        const what = 'Not saved. The file that was opened is not a project.';
        return refused('not-a-project', what, this.path, UNDER_ANOTHER_NAME);
      }
      const changed = save.overwrite ? null : await this.#whyChanged();
      return changed ?? (await this.#write(save));
    });
  }

  /** Writes a file the user has just named in a dialog, which has asked about one that is there. */
  saveAsNamed(save: Omit<DiskSave, 'overwrite'>): Promise<Saved> {
    return this.#inTurn(() => this.#write(save));
  }

  #inTurn(work: () => Promise<Saved>): Promise<Saved> {
    const turn = this.#common.queue.then(work, work);
    this.#common.queue = turn.catch(() => undefined);
    return turn;
  }

  async #write({ bytes, selfCheck }: Omit<DiskSave, 'overwrite'>): Promise<Saved> {
    const { older } = this.#common;
    if (older !== null) {
      const { outcome } = await keepBackup(this.path, older, this.#fs);
      if (!outcome.ok) return outcome;
    }
    this.#tried = digest(bytes);
    const saved = await saveFile(this.path, bytes, { selfCheck, fs: this.#fs });
    if (saved.ok) {
      this.#seen = this.#tried;
      this.#common.older = null;
    }
    return saved;
  }

  async #whyChanged(): Promise<Refused | null> {
    try {
      const now = digest(await readFile(this.path));
      if (now === this.#seen || now === this.#tried) return null;
    } catch (fault) {
      if (errorCode(fault) === 'ENOENT') return null;
      const what = 'Not saved. The file can no longer be read.';
      return refused('unreadable', what, this.path, UNDER_ANOTHER_NAME);
    }
    const what = 'Not saved. The file was changed by another program since it was opened.';
    return refused('changed-on-disk', what, this.path, UNDER_ANOTHER_NAME);
  }
}
