/** Files opened lately, newest first. Paths stay with the host; the window sees names and ids. */
import { z } from 'zod';
import type { HeldFile, Reason } from '../../src-shared/contract/requests.ts';
import { StateFile } from '../projects/state-file.ts';
import { admitFile } from './admit-file.ts';
import type { DiskFile } from './disk-file.ts';
import type { DiskFiles } from './disk-files.ts';

const MOST = 10;

const list = z.strictObject({
  format: z.literal('runledger-recent'),
  version: z.literal(1),
  paths: z.array(z.string().min(1).max(4096)).max(MOST),
});
type List = z.infer<typeof list>;

const empty: List = { format: 'runledger-recent', version: 1, paths: [] };

export class RecentFiles {
  readonly #file: StateFile<List>;
  readonly #disk: DiskFiles;
  #telling: Promise<void> = Promise.resolve();
  /** Called when the list has changed: the shell's menu shows it. */
  onChange: (files: readonly DiskFile[]) => void = () => undefined;

  /** @param told told of a damaged list, once it was set aside */
  constructor(path: string, disk: DiskFiles, told: (reason: Reason) => void) {
    const title = 'The list of recent files';
    this.#file = new StateFile({ path, schema: list, empty, title, told });
    this.#disk = disk;
  }

  /** Reads the list itself, without a look at its files. */
  async look(): Promise<void> {
    await this.#file.read();
  }

  /** Those that can still be opened; the others are dropped from the list. */
  async files(): Promise<readonly DiskFile[]> {
    const { paths } = await this.#file.read();
    const there: string[] = [];
    for (const path of paths) if ((await admitFile(path)).ok) there.push(path);
    if (there.length < paths.length) {
      const gone = new Set(paths.filter((path) => !there.includes(path)));
      await this.#file.change((now) => ({
        ...now,
        paths: now.paths.filter((path) => !gone.has(path)),
      }));
    }
    return there.map((path) => this.#disk.at(path));
  }

  async held(): Promise<readonly HeldFile[]> {
    return (await this.files()).map(({ file }) => file);
  }

  /** Puts a file first. A list that cannot be written is no reason to stop the user's work. */
  async add(file: DiskFile): Promise<void> {
    await this.#file.change((now) => ({
      ...now,
      paths: [file.path, ...now.paths.filter((path) => path !== file.path)].slice(0, MOST),
    }));
    void this.tell();
  }

  /**
   * Tells the files of the list, one telling after the other. Nobody has to wait for it: files on a
   * share that does not answer take long. Does not reject.
   */
  tell(): Promise<void> {
    const turn = this.#telling.then(async () => this.onChange(await this.files()));
    this.#telling = turn.catch(() => undefined);
    return this.#telling;
  }
}
