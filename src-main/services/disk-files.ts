/** Files the host knows by path, each under an opaque id: the window never learns or names a path. */
import { resolve } from 'node:path';
import type { HeldFile } from '../../src-shared/contract/requests.ts';
import { admitFile } from './admit-file.ts';
import { DiskFile } from './disk-file.ts';
import { answered, type Refused } from './reasons.ts';

export class DiskFiles {
  readonly #byId = new Map<string, DiskFile>();
  readonly #byPath = new Map<string, DiskFile>();

  /** The file at a path; the same path keeps its id as long as the program runs. */
  at(path: string): DiskFile {
    const absolute = resolve(path);
    return this.#byPath.get(absolute) ?? this.add(new DiskFile(absolute));
  }

  add(file: DiskFile): DiskFile {
    this.#byPath.set(file.path, file);
    this.#byId.set(file.file.fileId, file);
    return file;
  }

  /** A file under one more id, for the one job that is opened from it or saved to it. */
  opening(file: DiskFile): DiskFile {
    const opening = file.opening();
    this.#byId.set(opening.file.fileId, opening);
    return opening;
  }

  get(fileId: string): DiskFile | null {
    return this.#byId.get(fileId) ?? null;
  }

  /**
   * Takes in a file named by a dialog, a drop, the recent files, the command line or the system.
   * @param written as the user wrote it, for messages
   */
  async admit(
    path: string,
    written?: string,
  ): Promise<{ readonly ok: true; readonly value: HeldFile } | Refused> {
    const admitted = await admitFile(resolve(path), written);
    return admitted.ok ? answered(this.at(path).file) : admitted;
  }
}
