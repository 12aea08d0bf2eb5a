/** Save, save as, and what is asked when the file has changed meanwhile. */
import type { Answer } from '../../src-shared/contract/requests.ts';
import { type History, markSaved } from '../../src-shared/document/history.ts';
import { writeProject } from '../../src-shared/format/project-json.ts';
import { connection } from '../host/connection.ts';
import { askChoice } from './ask-choice.ts';
import { during } from './busy.ts';
import { forcedDirty, history, jobFile } from './document-store.ts';
import { entriesSettled } from './edit-schedule.ts';
import { projectFileName } from './job-text.ts';
import { say, sayReason } from './notice.ts';
import { openHeld } from './open-held.ts';
import { dropRecovery } from './recovery.ts';

/** Takes an open editor's text first: leaving its cell commits it. */
export async function settleEntries(): Promise<void> {
  if (document.activeElement instanceof HTMLElement) {
    const inCell = document.activeElement.classList.contains('cell-input');
    if (inCell) document.activeElement.blur();
  }
  await new Promise((done) => setTimeout(done, 0));
  await entriesSettled();
}

function ask(
  saved: History,
  target: string | null,
  overwrite: boolean,
): Promise<Answer<'project.save'>> {
  return during('Saving', () =>
    connection().host.ask('project.save', {
      projectText: writeProject(saved.project),
      sourceFileIds: jobFile.value.sources.map(({ fileId }) => fileId),
      target,
      overwrite,
      suggestedName: projectFileName(saved.project),
    }),
  );
}

/** Edits made while it was being saved stay unsaved: only the state that was written is marked. */
async function settleSaved(
  saved: History,
  value: Extract<Answer<'project.save'>, { ok: true }>['value'],
): Promise<boolean> {
  if (value.saved === 'not') return false;
  connection().host.deliver(value.saved === 'output' ? value : { saved: 'not' });
  if (value.saved === 'file') {
    jobFile.value = { ...jobFile.value, target: value.file, writable: true };
  }
  if (history.value?.project === saved.project) {
    history.value = markSaved(saved);
    forcedDirty.value = false;
    await dropRecovery();
  }
  const name =
    value.saved === 'output' ? value.output.name : value.saved === 'file' ? value.file.name : null;
  say('status', name === null ? 'Saved.' : `Saved as ${name}.`);
  return true;
}

/** The file on the disk is no longer the one that was opened: what shall hold? */
async function askChanged(name: string): Promise<'reload' | 'new' | 'mine' | null> {
  return askChoice(
    'The file was changed meanwhile',
    [
      `Another program has changed ${name} since it was opened. Nothing is saved so far.`,
      'Opening theirs gives up what you changed here; keeping yours replaces what they wrote.',
    ],
    [
      { id: 'reload', title: 'Open theirs' },
      { id: 'mine', title: 'Keep mine' },
      { id: 'new', title: 'Save mine as new file' },
    ],
  );
}

/** Saves where it came from, or lets a new file leave. False: not saved, and the reason is said. */
export async function saveJob(as: 'same' | 'new'): Promise<boolean> {
  await settleEntries();
  const saved = history.value;
  if (saved === null) return false;
  const { target, writable } = jobFile.value;
  const inPlace = as === 'same' && writable && target !== null;
  if (as === 'same' && target !== null && !writable && connection().host.kind === 'desktop') {
    say('status', `${target.name} cannot be written where it lies: choose where to save.`);
  }
  let answer = await ask(saved, inPlace ? target.fileId : null, false);
  if (!answer.ok && answer.reason.code === 'changed-on-disk' && inPlace) {
    const choice = await askChanged(target.name);
    if (choice === null) return false;
    if (choice === 'reload') {
      if (await openHeld(target)) await dropRecovery();
      return false;
    }
    answer = await ask(saved, choice === 'mine' ? target.fileId : null, choice === 'mine');
  }
  if (answer.ok) return settleSaved(saved, answer.value);
  sayReason(answer.reason);
  return false;
}
