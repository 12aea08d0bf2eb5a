/** The one check before a file on the disk is opened, whichever way it was named. */
import { open, stat } from 'node:fs/promises';
import { PROJECT_EXTENSION } from '../projects/project-parts.ts';
import { errorCode } from '../projects/save-fs.ts';
import { answered, type Refused, refused } from './reasons.ts';

/** The most bytes a schedule to be opened may have, on disk or sent by the window. */
export const FILE_BYTES = 60_000_000;
/** The same for a project, which holds several workbooks; none larger is ever saved. */
export const PROJECT_BYTES = 250_000_000;

/** The most bytes a file of this name may have. */
export function mostBytes(name: string): number {
  return name.toLowerCase().endsWith(PROJECT_EXTENSION) ? PROJECT_BYTES : FILE_BYTES;
}

const SMALLER = 'Keep the schedule in a workbook of its own, and open that.';
const NAME_ONE = 'Name a schedule (.xlsx, .csv) or a saved project.';

/** Why a file cannot be opened, in two parts: what is wrong, what to do; null: it can be. */
async function whyNot(
  path: string,
): Promise<readonly [code: string, what: string, todo: string] | null> {
  try {
    const found = await stat(path);
    if (found.isDirectory()) return ['a-folder', 'is a folder.', NAME_ONE];
    if (!found.isFile()) return ['not-a-file', 'is not a file.', NAME_ONE];
    const most = mostBytes(path);
    if (found.size > most) {
      return ['too-large', `is over ${most / 1e6} MB.`, SMALLER];
    }
    const handle = await open(path, 'r');
    await handle.close();
    return null;
  } catch (fault) {
    const code = errorCode(fault);
    if (code === 'ENOENT' || code === 'ENOTDIR') {
      return ['file-gone', 'there is no such file.', 'Check the name and the folder.'];
    }
    if (code === 'EACCES' || code === 'EPERM') {
      return ['unreadable', 'may not be read.', 'Check who may read it.'];
    }
    const what = `cannot be read (${code || 'unknown cause'}).`;
    return ['unreadable', what, 'Check the disk and the name.'];
  }
}

/**
 * A file that can be opened: there, a file, not too large, readable.
 * @param path absolute
 * @param written as the user wrote it, for the message; by default the path
 */
export async function admitFile(
  path: string,
  written = path,
): Promise<{ readonly ok: true; readonly value: string } | Refused> {
  const why = await whyNot(path);
  if (why === null) return answered(path);
  const [code, what, todo] = why;
  return refused(code, `${written}: ${what}`, '', todo);
}
