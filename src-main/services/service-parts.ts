import type { HeldFile, Reason } from '../../src-shared/contract/requests.ts';
import type { Project } from '../../src-shared/document/project.ts';
import type { RecoveryStore } from '../projects/recovery-store.ts';
import type { MarkUpOptions, MarkUpResult } from '../workbook/patch/mark-up-workbook.ts';
import type { ReadOutcome } from '../workbook/read-file.ts';
import type { DiskFiles } from './disk-files.ts';
import type { FileStore } from './file-store.ts';
import type { Frame } from './frame.ts';
import type { Leave } from './leave-file.ts';
import type { MemoryStore } from './memory-store.ts';
import type { RecentFiles } from './recent-files.ts';

/** Everything the services need from the host that starts them. */
export interface ServiceParts {
  readonly host: 'loopback' | 'desktop';
  readonly version: string;
  /** Bytes held in memory. */
  readonly store: FileStore;
  /** Files known by path. */
  readonly disk: DiskFiles;
  readonly recent: RecentFiles;
  readonly memory: MemoryStore;
  readonly recovery: RecoveryStore;
  readonly leave: Leave;
  readonly frame: Frame;
  /** The file to begin with, by the command line or the system; null: none. */
  readonly launchFile: () => HeldFile | null;
  /** Start with a copy of the demo. */
  readonly startWithDemo: boolean;
  /** The bytes of the demo workbook. */
  readonly demo: () => Promise<Uint8Array>;
  /** Reads a schedule, in a worker. Does not reject. */
  readonly readSource: (bytes: Uint8Array, fileName: string) => Promise<ReadOutcome>;
  /** The marked-up schedule as a new workbook. */
  readonly exportWorkbook: (project: Project) => Promise<Uint8Array>;
  /** The marked-up schedule as the engineer's own workbook with our marks in it. */
  readonly markUpWorkbook: (
    sourceBytes: Uint8Array,
    fileName: string,
    project: Project,
    options: MarkUpOptions,
  ) => Promise<MarkUpResult>;
  /** What was found wrong with the host's own files since it started. */
  readonly remarks: () => readonly Reason[];
  /** Something the person at the terminal should know. */
  readonly warn: (message: string) => void;
}
