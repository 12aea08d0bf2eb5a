import { stat } from 'node:fs/promises';
import { resolve } from 'node:path';
import { errorCode } from '../projects/save-fs.ts';
import { LaunchFile } from '../services/launch-file.ts';
import { UPLOAD_BYTES } from './read-body.ts';

export type NamedFile =
  | { readonly ok: true; readonly file: LaunchFile }
  | { readonly ok: false; readonly message: string };

async function whyNot(path: string): Promise<string | null> {
  try {
    const found = await stat(path);
    if (found.isDirectory())
      return 'is a folder. Name a schedule (.xlsx, .csv) or a saved project.';
    if (!found.isFile()) return 'is not a file. Name a schedule (.xlsx, .csv) or a saved project.';
    if (found.size <= UPLOAD_BYTES) return null;
    return `is over ${UPLOAD_BYTES / 1e6} MB. Keep the schedule in a workbook of its own.`;
  } catch (fault) {
    const code = errorCode(fault);
    if (code === 'ENOENT' || code === 'ENOTDIR') {
      return 'there is no such file. Check the name and the folder.';
    }
    if (code === 'EACCES' || code === 'EPERM') return 'may not be read. Check who may read it.';
    return `cannot be read (${code || 'unknown cause'}). Check the disk and the name.`;
  }
}

/** The file named on the command line; a relative path counts from where the user stood. */
export async function findNamedFile(written: string, cwd: string): Promise<NamedFile> {
  const path = resolve(cwd, written);
  const why = await whyNot(path);
  if (why !== null) return { ok: false, message: `${written}: ${why}` };
  const file = new LaunchFile(path);
  const read = await file.read();
  if (!read.ok)
    return { ok: false, message: `${written}: may not be read. Check who may read it.` };
  return { ok: true, file };
}
