/** The calls saving needs from a file system, so that a test can make the n-th of them fail. */
import { constants } from 'node:fs';
import { access, open, readdir, realpath, rename, stat, unlink } from 'node:fs/promises';

export interface SaveHandle {
  /** Writes some or all of the bytes and says how many. */
  write(bytes: Uint8Array): Promise<number>;
  /** Permissions exactly, whatever the process masks out. */
  setMode(mode: number): Promise<void>;
  size(): Promise<number>;
  sync(): Promise<void>;
  close(): Promise<void>;
}

export interface SaveFs {
  /** Makes a new file; fails with EEXIST when there is one. */
  create(path: string, mode: number): Promise<SaveHandle>;
  rename(from: string, to: string): Promise<void>;
  remove(path: string): Promise<void>;
  list(folder: string): Promise<readonly string[]>;
  /** Mode and time of last change, ms; null when there is no such file. */
  look(path: string): Promise<{ readonly mode: number; readonly changedMs: number } | null>;
  /** Fails with EACCES or EROFS when the file may not be written. */
  mayWrite(path: string): Promise<void>;
  /** Where a path leads, links followed; the path itself when there is nothing yet. */
  resolve(path: string): Promise<string>;
  syncFolder(folder: string): Promise<void>;
  pause(ms: number): Promise<void>;
}

/** The `code` of a failed system call, `''` for any other fault. */
export function errorCode(fault: unknown): string {
  if (fault instanceof Error && 'code' in fault && typeof fault.code === 'string')
    return fault.code;
  return '';
}

async function orNull<T>(work: Promise<T>): Promise<T | null> {
  try {
    return await work;
  } catch (fault) {
    if (errorCode(fault) === 'ENOENT') return null;
    throw fault;
  }
}

export const nodeSaveFs: SaveFs = {
  async create(path, mode) {
    const handle = await open(path, 'wx', mode);
    return {
      write: async (bytes) => (await handle.write(bytes, 0, bytes.length)).bytesWritten,
      setMode: (exact) => handle.chmod(exact),
      size: async () => (await handle.stat()).size,
      sync: () => handle.sync(),
      close: () => handle.close(),
    };
  },
  rename: (from, to) => rename(from, to),
  remove: (path) => unlink(path),
  list: (folder) => readdir(folder),
  async look(path) {
    const found = await orNull(stat(path));
    return found && { mode: found.mode & 0o777, changedMs: found.mtimeMs };
  },
  mayWrite: (path) => access(path, constants.W_OK),
  resolve: async (path) => (await orNull(realpath(path))) ?? path,
  async syncFolder(folder) {
    if (process.platform === 'win32') return;
    const handle = await open(folder, 'r');
    try {
      await handle.sync();
    } finally {
      await handle.close();
    }
  },
  pause: (ms) => new Promise((resolve) => setTimeout(resolve, ms)),
};
