/** The user says where with the system's save dialog; a project is saved in place from then on. */
import { access } from 'node:fs/promises';
import { PROJECT_EXTENSION } from '../projects/project-parts.ts';
import { saveFile } from '../projects/save-file.ts';
import type { DiskFiles } from './disk-files.ts';
import type { Leave, LeavingFile } from './leave-file.ts';
import { answered } from './reasons.ts';
import type { RecentFiles } from './recent-files.ts';

export interface DialogLeave {
  readonly disk: DiskFiles;
  readonly recent: RecentFiles;
  /** Shows the dialog; null: the user closed it. `offered`: a bare name, or a path to begin with. */
  readonly choosePath: (offered: string, extension: string) => Promise<string | null>;
}

const isThere = (path: string) =>
  access(path).then(
    () => true,
    () => false,
  );

/**
 * The path to write. A name typed without its extension gets it; if that is another file that is
 * there, the dialog comes again with it, so that it asks before anything is replaced.
 */
async function choose({ choosePath }: DialogLeave, file: LeavingFile): Promise<string | null> {
  for (let offered = file.name; ; ) {
    const path = await choosePath(offered, file.extension);
    if (path === null || path.toLowerCase().endsWith(file.extension)) return path;
    const whole = `${path}${file.extension}`;
    if (!(await isThere(whole))) return whole;
    offered = whole;
  }
}

export function leaveByDialog(parts: DialogLeave): Leave {
  return async (file) => {
    const unfit = file.selfCheck(file.bytes);
    if (unfit !== null) return { ok: false, reason: unfit };
    const path = await choose(parts, file);
    if (path === null) return answered({ saved: 'not' });
    const target = parts.disk.opening(parts.disk.at(path));
    if (file.extension === PROJECT_EXTENSION) {
      const saved = await target.saveAsNamed(file);
      if (!saved.ok) return saved;
      await parts.recent.add(target);
    } else {
      const saved = await saveFile(target.path, file.bytes, { selfCheck: file.selfCheck });
      if (!saved.ok) return saved;
    }
    return answered({ saved: 'file', file: target.file });
  };
}
