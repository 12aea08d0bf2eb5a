/** What happens when the window opens: ask the host what it is and what is to be opened. */
import { signal } from '@preact/signals';
import type { HeldFile } from '../../src-shared/contract/requests.ts';
import { connection } from '../host/connection.ts';
import { dirty, project } from './document-store.ts';
import { fillMemory } from './memory.ts';
import { sayReason } from './notice.ts';
import { openHeld } from './open-held.ts';
import { loadSums } from './parse-cell.ts';
import { cautionAccepted } from './preferences.ts';
import { followRecovery, offers } from './recovery.ts';
import { followSources } from './release-sources.ts';
import { dialog } from './view-state.ts';

export const hostVersion = signal('');
/** Files opened lately, as far as the host can open them again. */
export const recentFiles = signal<readonly HeldFile[]>([]);

async function askRecent(): Promise<void> {
  const answer = await connection().host.ask('file.recent', {});
  if (answer.ok) recentFiles.value = answer.value;
}

/** Asks the host, offers recovered work, opens the file named at start. */
export async function start(): Promise<void> {
  followRecovery();
  followSources();
  void loadSums();
  const answer = await connection().host.ask('app.start', {});
  if (!answer.ok) {
    sayReason(answer.reason);
    return;
  }
  const { version, launchFile, recoveries, memory, remarks } = answer.value;
  hostVersion.value = version;
  offers.value = recoveries;
  fillMemory(memory);
  if (!cautionAccepted()) dialog.value = 'caution';
  if (launchFile !== null) await openHeld(launchFile);
  for (const remark of remarks) sayReason(remark);
  if (recoveries.length > 0 && dialog.value === null) dialog.value = 'recoveries';
  if (launchFile === null) await askRecent();
}

/** The title of the window: unsaved work is marked by a dot and a word. */
export function windowTitle(): string {
  const now = project.value;
  if (now === null) return 'Runledger';
  return `${dirty.value ? '• unsaved: ' : ''}${now.name} – Runledger`;
}
