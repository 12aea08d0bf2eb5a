/** What happens when the window opens: ask the host what it is and what is to be opened. */
import { signal } from '@preact/signals';
import { connection } from '../host/connection.ts';
import { dirty, project } from './document-store.ts';
import { openHeld } from './file-actions.ts';
import { sayReason } from './notice.ts';
import { loadSums } from './parse-cell.ts';
import { cautionAccepted } from './preferences.ts';
import { followRecovery, offers } from './recovery.ts';
import { dialog } from './view-state.ts';

export const hostVersion = signal('');

/** Asks the host, offers recovered work, opens the file named at start. */
export async function start(page: Window): Promise<void> {
  followRecovery();
  page.addEventListener('beforeunload', (event) => {
    if (dirty.value) event.preventDefault();
  });
  void loadSums();
  if (!cautionAccepted()) dialog.value = 'caution';
  const answer = await connection().host.ask('app.start', {});
  if (!answer.ok) {
    sayReason(answer.reason);
    return;
  }
  const { version, launchFile, recoveries } = answer.value;
  hostVersion.value = version;
  offers.value = recoveries;
  if (launchFile !== null) await openHeld(launchFile);
  if (recoveries.length > 0 && dialog.value === null) dialog.value = 'recoveries';
}

/** The title of the window: unsaved work is marked by a dot and a word. */
export function windowTitle(): string {
  const now = project.value;
  if (now === null) return 'Runledger';
  return `${dirty.value ? '• unsaved: ' : ''}${now.name} – Runledger`;
}
