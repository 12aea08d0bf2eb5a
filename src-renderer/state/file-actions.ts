/** New and open: what replaces the open job. */
import type { Answer, HeldFile } from '../../src-shared/contract/requests.ts';
import { blankProject } from '../../src-shared/document/blank.ts';
import { connection } from '../host/connection.ts';
import { askUnsaved } from './ask-unsaved.ts';
import { during } from './busy.ts';
import { dirty, jobFile, noFile, openJob } from './document-store.ts';
import { say, sayReason } from './notice.ts';
import { openHeld } from './open-held.ts';
import { adoptRecovery, dropRecovery } from './recovery.ts';
import { resetView } from './reset-view.ts';
import { saveJob, settleEntries } from './save-actions.ts';

/** What the engineer said of the open job: stay with it, or leave it saved or given up. */
async function leaveOpenJob(): Promise<'stay' | 'saved' | 'given-up'> {
  await settleEntries();
  if (!dirty.value) return 'saved';
  const choice = await askUnsaved();
  if (choice === 'cancel') return 'stay';
  if (choice === 'save') return (await saveJob('same')) ? 'saved' : 'stay';
  return 'given-up';
}

/** True when the window may close: the job saved, given up, or nothing to lose. */
export async function mayLeave(): Promise<boolean> {
  const said = await leaveOpenJob();
  if (said === 'given-up') await dropRecovery();
  return said !== 'stay';
}

/**
 * Replaces the open job, if it may be left. Its recovery copy goes only once another job is open in
 * its place: a file that does not open leaves the work and its copy as they were.
 */
async function replaceJob(open: () => Promise<boolean>): Promise<boolean> {
  const said = await leaveOpenJob();
  if (said === 'stay' || !(await open())) return false;
  if (said === 'given-up') await dropRecovery();
  return true;
}

export async function newJob(): Promise<void> {
  await replaceJob(async () => {
    openJob(blankProject('New job'), noFile, false);
    resetView();
    say('status', 'New job.');
    return true;
  });
}

/** Opens a file that has come, once the open job may be left. */
export async function openArrived(file: HeldFile): Promise<void> {
  await replaceJob(() => openHeld(file));
  // Bytes the job does not need: it did not open, or its own sources were taken out of them.
  const { fileId } = file;
  if (jobFile.value.sources.some((source) => source.fileId === fileId)) return;
  await connection().host.ask('file.release', { fileId });
}

/** Opens what was asked of the host, if there is something. */
async function openAnswer(answer: Answer<'file.choose'>): Promise<void> {
  if (!answer.ok) sayReason(answer.reason);
  else if (answer.value !== null) await openArrived(answer.value);
}

/** Opens a file dropped on the window. */
export async function openFile(file: File): Promise<void> {
  await openAnswer(await during(`Reading ${file.name}`, () => connection().host.hold(file)));
}

/** Lets the user choose a file and opens it. */
export async function chooseFile(): Promise<void> {
  await openAnswer(await connection().host.choose('any'));
}

export async function openDemo(): Promise<void> {
  await replaceJob(async () => {
    const answer = await connection().host.ask('file.demo', {});
    if (answer.ok) return openHeld(answer.value);
    sayReason(answer.reason);
    return false;
  });
}

export async function openRecovery(recoveryId: string, name: string): Promise<void> {
  if (await replaceJob(() => openHeld({ fileId: recoveryId, name }, true)))
    adoptRecovery(recoveryId);
}
