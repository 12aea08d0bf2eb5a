/** What every host of the built program has in common: its state, the demo, readers and writers. */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Reason } from '../../src-shared/contract/requests.ts';
import { createRecoveryStore } from '../projects/recovery-store.ts';
import { readSourceFileInWorker } from '../workbook/read-in-worker.ts';
import { DiskFiles } from './disk-files.ts';
import { FileStore } from './file-store.ts';
import { createMemoryStore } from './memory-store.ts';
import { RecentFiles } from './recent-files.ts';
import type { ServiceParts } from './service-parts.ts';

export interface HostOptions {
  readonly version: string;
  /** This user's folder for what outlives the program. */
  readonly stateFolder: string;
  readonly demoPath: string;
  readonly warn: (message: string) => void;
}

export type CommonParts = Omit<
  ServiceParts,
  'host' | 'leave' | 'frame' | 'launchFile' | 'startWithDemo'
>;

/** Reader and writers are loaded when they are first asked for. */
export function makeHostParts(options: HostOptions): CommonParts {
  const { version, stateFolder, demoPath, warn } = options;
  const remarks: Reason[] = [];
  const told = (reason: Reason) => {
    if (!remarks.some(({ what }) => what === reason.what)) remarks.push(reason);
    warn(`${reason.what} (${reason.where})`);
  };
  const disk = new DiskFiles();
  const recoveryFolder = join(stateFolder, 'recovery');
  return {
    version,
    store: new FileStore(),
    disk,
    recent: new RecentFiles(join(stateFolder, 'recent.json'), disk, told),
    memory: createMemoryStore(join(stateFolder, 'memory.json'), told),
    recovery: createRecoveryStore({ folder: recoveryFolder, appVersion: version }),
    demo: () => readFile(demoPath),
    readSource: (bytes, fileName) => readSourceFileInWorker(bytes, fileName),
    exportWorkbook: async (project) => {
      const { writeMarkedUpWorkbook } = await import('../workbook/write-workbook.ts');
      return writeMarkedUpWorkbook(project);
    },
    markUpWorkbook: async (bytes, fileName, project, markUp) => {
      const { markUpWorkbook } = await import('../workbook/patch/mark-up-workbook.ts');
      return markUpWorkbook(bytes, fileName, project, markUp);
    },
    remarks: () => remarks,
    warn,
  };
}
