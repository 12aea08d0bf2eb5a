import type { Project } from '../../src-shared/document/project.ts';
import type { RecoveryStore } from '../projects/recovery-store.ts';
import type { ReadOutcome } from '../workbook/read-file.ts';
import type { FileStore } from './file-store.ts';
import type { LaunchFile } from './launch-file.ts';

/** Everything the services need from the host that starts them. */
export interface ServiceParts {
  readonly host: 'loopback' | 'desktop';
  readonly version: string;
  readonly store: FileStore;
  readonly recovery: RecoveryStore;
  /** The file named at start. */
  readonly launchFile: LaunchFile | null;
  /** Start with a copy of the demo. */
  readonly startWithDemo: boolean;
  /** The bytes of the demo workbook. */
  readonly demo: () => Promise<Uint8Array>;
  /** Reads a schedule, in a worker. Does not reject. */
  readonly readSource: (bytes: Uint8Array, fileName: string) => Promise<ReadOutcome>;
  /** The marked-up schedule as a new workbook. */
  readonly exportWorkbook: (project: Project) => Promise<Uint8Array>;
  /** Something the person at the terminal should know. */
  readonly warn: (message: string) => void;
}
