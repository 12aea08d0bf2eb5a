import { nodeSaveFs, type SaveFs, type SaveHandle } from '../../src-main/projects/save-fs.ts';

export class SystemFault extends Error {
  readonly code: string;
  constructor(code: string) {
    super(code);
    this.code = code;
  }
}

export interface Faulty {
  readonly fs: SaveFs;
  /** Names of the calls so far, in order. */
  readonly calls: string[];
}

/** The real file system, but `fail` may throw before a call is made. */
export function faultyFs(fail: (call: string, count: number) => void): Faulty {
  const calls: string[] = [];
  const before = (name: string) => {
    calls.push(name);
    fail(name, calls.length);
  };
  const handleOf = (real: SaveHandle): SaveHandle => ({
    write: async (bytes) => {
      before('write');
      return real.write(bytes);
    },
    setMode: async (mode) => {
      before('setMode');
      return real.setMode(mode);
    },
    size: async () => {
      before('size');
      return real.size();
    },
    sync: async () => {
      before('sync');
      return real.sync();
    },
    close: async () => {
      // A descriptor is gone after close, whatever close says (close(2)).
      await real.close();
      before('close');
    },
  });
  const fs: SaveFs = {
    create: async (path, mode) => {
      before('create');
      return handleOf(await nodeSaveFs.create(path, mode));
    },
    rename: async (from, to) => {
      before('rename');
      return nodeSaveFs.rename(from, to);
    },
    remove: async (path) => {
      before('remove');
      return nodeSaveFs.remove(path);
    },
    list: async (folder) => {
      before('list');
      return nodeSaveFs.list(folder);
    },
    look: async (path) => {
      before('look');
      return nodeSaveFs.look(path);
    },
    mayWrite: async (path) => {
      before('mayWrite');
      return nodeSaveFs.mayWrite(path);
    },
    resolve: async (path) => {
      before('resolve');
      return nodeSaveFs.resolve(path);
    },
    syncFolder: async (folder) => {
      before('syncFolder');
      return nodeSaveFs.syncFolder(folder);
    },
    pause: async () => before('pause'),
  };
  return { fs, calls };
}
