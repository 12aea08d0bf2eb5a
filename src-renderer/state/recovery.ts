/** A recovery copy of unsaved work within two seconds of a change, at the host. */
import { signal } from '@preact/signals';
import type { RecoveryOffer } from '../../src-shared/contract/requests.ts';
import { writeProject } from '../../src-shared/format/project-json.ts';
import { connection } from '../host/connection.ts';
import { dirty, jobFile, onChange, project } from './document-store.ts';
import { jobTitle } from './job-text.ts';
import { sayReason } from './notice.ts';

const delayMs = 1200;

/** Copies of earlier windows, offered at start. */
export const offers = signal<readonly RecoveryOffer[]>([]);

let recoveryId: string | null = null;
let timer: ReturnType<typeof setTimeout> | null = null;
let keeping: Promise<void> = Promise.resolve();
let complained = false;

async function keepNow(): Promise<void> {
  const now = project.value;
  if (now === null || !dirty.value) return;
  const answer = await connection().host.ask('recovery.keep', {
    recoveryId,
    projectText: writeProject(now),
    sourceFileId: jobFile.value.source?.fileId ?? null,
    name: jobTitle(now),
  });
  if (answer.ok) {
    recoveryId = answer.value.recoveryId;
    complained = false;
  } else if (!complained) {
    complained = true;
    sayReason(answer.reason);
  }
}

/** Starts following changes. The first change of a burst sets the clock, so a long burst is kept too. */
export function followRecovery(): void {
  onChange((changes) => {
    if (changes === 'opened' && !dirty.value) return;
    timer ??= setTimeout(() => {
      timer = null;
      keeping = keeping.then(keepNow);
    }, delayMs);
  });
}

/** The work is saved or given up: its copy goes. */
export async function dropRecovery(): Promise<void> {
  if (timer !== null) clearTimeout(timer);
  timer = null;
  await keeping;
  const id = recoveryId;
  recoveryId = null;
  if (id !== null) await connection().host.ask('recovery.drop', { recoveryId: id });
}

/** A copy that was opened is from now on this window's own. */
export function adoptRecovery(id: string): void {
  recoveryId = id;
  offers.value = offers.value.filter((offer) => offer.recoveryId !== id);
}

export async function discardOffer(id: string): Promise<void> {
  const answer = await connection().host.ask('recovery.drop', { recoveryId: id });
  if (answer.ok) offers.value = offers.value.filter((offer) => offer.recoveryId !== id);
  else sayReason(answer.reason);
}
