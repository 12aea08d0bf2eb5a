/** Lets the user choose one more schedule file and reads its cells. */
import { connection } from '../host/connection.ts';
import { during } from './busy.ts';
import type { SourceBook } from './import-books.ts';
import { say, sayReason } from './notice.ts';

/** A schedule file of the user's choice; null: none was chosen, or it could not be read and why is said. */
export async function chooseBook(): Promise<SourceBook | null> {
  const { host } = connection();
  const chosen = await host.choose('schedule');
  if (!chosen.ok) {
    sayReason(chosen.reason);
    return null;
  }
  const held = chosen.value;
  if (held === null) return null;
  const opened = await during(`Reading ${held.name}`, () =>
    host.ask('file.open', { fileId: held.fileId }),
  );
  if (opened.ok && opened.value.kind === 'schedule') {
    // As the host holds what was read: the file on the disk may change.
    return { held: opened.value.file, workbook: opened.value.workbook };
  }
  if (!opened.ok) sayReason(opened.reason);
  else say('alert', `${held.name} is a saved job. Choose an .xlsx or .csv schedule.`);
  await host.ask('file.release', { fileId: held.fileId });
  return null;
}
