/** How bytes leave the host: one way for each host, one answer for both. */
import type { Left, Reason } from '../../src-shared/contract/requests.ts';
import type { FileStore } from './file-store.ts';
import { answered, type Refused } from './reasons.ts';

export interface LeavingFile {
  /** A file name every system takes, with its extension. */
  readonly name: string;
  readonly bytes: Uint8Array;
  /** `.runledger` or `.xlsx` */
  readonly extension: string;
  /** Why these bytes must not be written; null: they are in order. */
  readonly selfCheck: (bytes: Uint8Array) => Reason | null;
}

export type Leave = (
  file: LeavingFile,
) => Promise<{ readonly ok: true; readonly value: Left } | Refused>;

/** The browser fetches what is held ready: a download. */
export function leaveAsDownload(store: FileStore): Leave {
  return async ({ name, bytes, selfCheck }) => {
    const unfit = selfCheck(bytes);
    if (unfit !== null) return { ok: false, reason: unfit };
    return answered({ saved: 'output', output: store.putOutput(name, bytes) });
  };
}
