/** Opens a file the host holds as the job, whatever it is. */
import type { HeldFile, OpenedFile } from '../../src-shared/contract/requests.ts';
import { readProject } from '../../src-shared/format/project-json.ts';
import { connection } from '../host/connection.ts';
import { during } from './busy.ts';
import { openJob } from './document-store.ts';
import { say, sayReason } from './notice.ts';
import { openSchedule } from './open-schedule.ts';
import { resetView } from './reset-view.ts';

function openSaved(opened: Extract<OpenedFile, { kind: 'project' }>, recovered: boolean): boolean {
  const read = readProject(opened.projectText);
  if (!read.ok) {
    sayReason(read.reason);
    return false;
  }
  const { file, sources, writable } = opened;
  const target = recovered ? null : file;
  openJob(read.project, { sources, target, writable: writable && !recovered }, recovered);
  resetView();
  say(
    'status',
    read.migrated
      ? 'The file is of an earlier format; a save writes the present one.'
      : `${file.name} is open.`,
  );
  return true;
}

/** Opens a file the host holds; the open job must have been left before. */
export async function openHeld(file: HeldFile, recovered = false): Promise<boolean> {
  const answer = await during(`Reading ${file.name}`, () =>
    connection().host.ask('file.open', { fileId: file.fileId }),
  );
  if (!answer.ok) {
    sayReason(answer.reason);
    return false;
  }
  return answer.value.kind === 'schedule'
    ? openSchedule(answer.value)
    : openSaved(answer.value, recovered);
}
