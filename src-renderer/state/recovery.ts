/** A recovery copy of unsaved work within two seconds of a change, at the host. */
import { signal } from '@preact/signals';
import type { RecoveryOffer } from '../../src-shared/contract/requests.ts';
import { writeProject } from '../../src-shared/format/project-json.ts';
import { connection } from '../host/connection.ts';
import { dirty, jobFile, onChange, project } from './document-store.ts';
import { jobTitle } from './job-text.ts';
import { sayReason } from './notice.ts';

/** A copy waits for a pause after the latest change, but no longer than this after the first. */
const pauseMs = 500;
const mostMs = 1400;

/** Copies of earlier windows, offered at start. */
export const offers = signal<readonly RecoveryOffer[]>([]);

let recoveryId: string | null = null;
let timer: ReturnType<typeof setTimeout> | null = null;
/** When the first change came that no copy has yet. */
let first: number | null = null;
let keeping: Promise<void> = Promise.resolve();
let complained = false;

/** Waits for a pause in typing, but never so long that the copy comes late. */
function atRest(): Promise<void> {
  return new Promise((resume) => {
    requestIdleCallback(() => resume(), { timeout: 300 });
  });
}

async function keepNow(): Promise<void> {
  const now = project.value;
  if (now === null || !dirty.value) return;
  const answer = await connection().host.ask('recovery.keep', {
    recoveryId,
    projectText: writeProject(now),
    sourceFileIds: jobFile.value.sources.map(({ fileId }) => fileId),
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

/** Starts following changes: a copy in every pause, and in a long burst too. */
export function followRecovery(): void {
  onChange((changes) => {
    if (changes === 'opened' && !dirty.value) return;
    const now = performance.now();
    first ??= now;
    if (timer !== null) clearTimeout(timer);
    timer = setTimeout(
      () => {
        timer = null;
        first = null;
        keeping = keeping.then(atRest).then(keepNow);
      },
      Math.max(0, Math.min(pauseMs, first + mostMs - now)),
    );
  });
}

/** The work is saved or given up: its copy goes. */
export async function dropRecovery(): Promise<void> {
  if (timer !== null) clearTimeout(timer);
  timer = null;
  first = null;
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
