import { readFile } from 'node:fs/promises';
import { type SaveOutcome, saveFile } from './save-file.ts';
import { nodeSaveFs, type SaveFs } from './save-fs.ts';

async function holds(path: string, bytes: Uint8Array): Promise<boolean> {
  try {
    return Buffer.compare(await readFile(path), bytes) === 0;
  } catch {
    return false;
  }
}

/**
 * Puts bytes into `<path>.bak`, or `.2.bak`, `.3.bak` … when that stands already with other
 * content: a backup is never overwritten.
 * @returns the outcome and the path of the backup
 */
export async function keepBackup(
  path: string,
  bytes: Uint8Array,
  fs: SaveFs = nodeSaveFs,
): Promise<{ readonly outcome: SaveOutcome; readonly backup: string }> {
  for (let count = 1; ; count += 1) {
    const backup = count === 1 ? `${path}.bak` : `${path}.${count}.bak`;
    if (await holds(backup, bytes)) return { outcome: { ok: true }, backup };
    if ((await fs.look(backup)) !== null) continue;
    return { outcome: await saveFile(backup, bytes, { fs }), backup };
  }
}
