/** Temporary files of saves: named so that those left behind by a killed program can be told and swept. */
import { createHash, randomBytes } from 'node:crypto';
import { hostname } from 'node:os';
import { join } from 'node:path';
import type { SaveFs } from './save-fs.ts';

const hash = (text: string) => createHash('sha256').update(text).digest('hex');
const HOST = hash(hostname()).slice(0, 8);
const PART = /^\.(.+)~([0-9a-f]{8})-(\d{1,10})-[0-9a-f]{12}\.runledger-part$/;
/** A part of another machine on a shared folder is left alone this long. */
const FOREIGN_AGE_MS = 24 * 60 * 60 * 1000;

/** The name itself, or for one so long that more would not fit a file system, a short stand-in. */
function stemOf(name: string): string {
  return Buffer.byteLength(name) <= 180 ? name : hash(name).slice(0, 32);
}

/** Name for a temporary file beside `name`: says which machine and process writes it. */
export function temporaryName(name: string): string {
  return `.${stemOf(name)}~${HOST}-${process.pid}-${randomBytes(6).toString('hex')}.runledger-part`;
}

/** True when a process of that number is running. */
export function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (fault) {
    return fault instanceof Error && 'code' in fault && fault.code === 'EPERM';
  }
}

async function isStale(fs: SaveFs, path: string, host: string, pid: number): Promise<boolean> {
  if (host === HOST) return pid !== process.pid && !isAlive(pid);
  const found = await fs.look(path);
  return found !== null && Date.now() - found.changedMs > FOREIGN_AGE_MS;
}

/**
 * Removes temporaries whose writer is gone: those of `name`, or `null` for all in the folder. Best
 * effort: never fails the save.
 */
export async function sweepTemporaries(
  fs: SaveFs,
  folder: string,
  name: string | null,
): Promise<void> {
  const stem = name === null ? null : stemOf(name);
  try {
    for (const entry of await fs.list(folder)) {
      const [, of, host, pid] = PART.exec(entry) ?? [];
      if (host === undefined || pid === undefined || (stem !== null && of !== stem)) continue;
      const path = join(folder, entry);
      if (await isStale(fs, path, host, Number(pid))) await fs.remove(path);
    }
  } catch {
    // What cannot be swept now is swept at the next save.
  }
}
