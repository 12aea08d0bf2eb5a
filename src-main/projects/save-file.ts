import { basename, dirname, join } from 'node:path';
import type { Reason } from '../../src-shared/contract/requests.ts';
import { errorCode, nodeSaveFs, type SaveFs } from './save-fs.ts';
import { sweepTemporaries, temporaryName } from './temporary-file.ts';

export type SaveOutcome = { readonly ok: true } | { readonly ok: false; readonly reason: Reason };

export interface SaveOptions {
  /** Reads back what is about to be written; a reason means that nothing is. */
  readonly selfCheck?: (bytes: Uint8Array) => Reason | null;
  /** Permissions of a new file; an existing file keeps its own. */
  readonly mode?: number;
  readonly fs?: SaveFs;
}

const RENAME_TRIES = 8;
/** A rename that another program (a virus scanner, an indexer) holds up on Windows. */
const HELD_UP = new Set(['EPERM', 'EBUSY', 'EACCES']);
/** File systems that cannot flush a folder say so with these; the rename itself has been done. */
const NO_FOLDER_SYNC = new Set(['EINVAL', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EISDIR']);

const SAVE_ELSEWHERE = 'Save under another name or in another folder; your work is still open.';

const WORDS: ReadonlyMap<string, readonly [code: string, what: string, todo: string]> = new Map([
  ['ENOSPC', ['disk-full', 'The disk is full.', `Make room. ${SAVE_ELSEWHERE}`]],
  ['EDQUOT', ['disk-full', 'Your share of the disk is full.', `Make room. ${SAVE_ELSEWHERE}`]],
  ['EFBIG', ['disk-full', 'The disk does not take a file of this size.', SAVE_ELSEWHERE]],
  ['EACCES', ['read-only', 'The file or its folder may not be written.', SAVE_ELSEWHERE]],
  ['EPERM', ['read-only', 'The file or its folder may not be written.', SAVE_ELSEWHERE]],
  ['EROFS', ['read-only', 'The disk is read-only.', SAVE_ELSEWHERE]],
  ['ENOENT', ['folder-gone', 'The folder is no longer there.', SAVE_ELSEWHERE]],
  ['EBUSY', ['in-use', 'Another program holds the file.', `Close it there. ${SAVE_ELSEWHERE}`]],
]);

function reasonOf(fault: unknown, path: string): Reason {
  const code = errorCode(fault);
  const [name, what, todo] = WORDS.get(code) ?? [
    'not-saved',
    `The file could not be written${code === '' ? '' : ` (${code})`}.`,
    SAVE_ELSEWHERE,
  ];
  return { code: name, what: `Not saved. ${what}`, where: path, todo };
}

interface Mode {
  readonly mode: number;
  /** Of a file that is replaced: to be kept to the bit. */
  readonly exact: boolean;
}

async function writeWhole(
  fs: SaveFs,
  path: string,
  bytes: Uint8Array,
  { mode, exact }: Mode,
): Promise<void> {
  const handle = await fs.create(path, mode);
  let closed = false;
  try {
    if (exact) await handle.setMode(mode);
    for (let at = 0; at < bytes.length; ) {
      const written = await handle.write(bytes.subarray(at));
      if (written <= 0) throw new Error('nothing was written');
      at += written;
    }
    if ((await handle.size()) !== bytes.length) throw new Error('the size is false');
    await handle.sync();
    closed = true;
    await handle.close();
  } finally {
    if (!closed) await handle.close().catch(() => undefined);
  }
}

async function renameOver(fs: SaveFs, from: string, to: string): Promise<void> {
  for (let attempt = 1; ; attempt += 1) {
    try {
      await fs.rename(from, to);
      return;
    } catch (fault) {
      const again = process.platform === 'win32' && HELD_UP.has(errorCode(fault));
      if (!again || attempt === RENAME_TRIES) throw fault;
      await fs.pause(20 * 2 ** attempt);
    }
  }
}

async function syncFolder(fs: SaveFs, folder: string): Promise<void> {
  try {
    await fs.syncFolder(folder);
  } catch (fault) {
    if (!NO_FOLDER_SYNC.has(errorCode(fault))) throw fault;
  }
}

/**
 * Replaces a file whole or not at all: self-check, temporary in the same folder, full write, size
 * check, flush, rename (tried again on Windows), flush of the folder. Links are followed; an
 * existing file keeps its permissions. `ok` is only said when every step was done: a fault in the
 * last one is "not saved" although the new bytes may already stand there. Never rejects.
 */
export async function saveFile(
  path: string,
  bytes: Uint8Array,
  options: SaveOptions = {},
): Promise<SaveOutcome> {
  const { selfCheck, mode = 0o666, fs = nodeSaveFs } = options;
  const unfit = selfCheck?.(bytes) ?? null;
  if (unfit !== null) return { ok: false, reason: unfit };
  let temporary: string | null = null;
  try {
    const target = await fs.resolve(path);
    const folder = dirname(target);
    const before = await fs.look(target);
    if (before !== null) await fs.mayWrite(target);
    await sweepTemporaries(fs, folder, basename(target));
    temporary = join(folder, temporaryName(basename(target)));
    const permissions = { mode: before?.mode ?? mode, exact: before !== null };
    await writeWhole(fs, temporary, bytes, permissions);
    await renameOver(fs, temporary, target);
    temporary = null;
    await syncFolder(fs, folder);
    return { ok: true };
  } catch (fault) {
    if (temporary !== null) await fs.remove(temporary).catch(() => undefined);
    return { ok: false, reason: reasonOf(fault, path) };
  }
}
