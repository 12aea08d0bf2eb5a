/** New, open, save, save as, export: what goes through the host. */
import { signal } from '@preact/signals';
import type { HeldFile, OpenedFile } from '../../src-shared/contract/requests.ts';
import { blankProject } from '../../src-shared/document/blank.ts';
import { markSaved } from '../../src-shared/document/history.ts';
import { readProject, writeProject } from '../../src-shared/format/project-json.ts';
import { connection } from '../host/connection.ts';
import { askUnsaved } from './ask-unsaved.ts';
import {
  dirty,
  forcedDirty,
  history,
  jobFile,
  noFile,
  openJob,
  project,
} from './document-store.ts';
import { entriesSettled } from './edit-schedule.ts';
import { noAnswers, readWith, rememberWorkbook } from './import-state.ts';
import { projectFileName, workbookFileName } from './job-text.ts';
import { say, sayReason } from './notice.ts';
import { adoptRecovery, dropRecovery } from './recovery.ts';
import { atHand, side, view } from './view-state.ts';

export const busy = signal<string | null>(null);

async function during<T>(what: string, work: () => Promise<T>): Promise<T> {
  busy.value = what;
  try {
    return await work();
  } finally {
    busy.value = null;
  }
}

/** Takes an open editor's text first: leaving its cell commits it. */
async function settleEntries(): Promise<void> {
  if (document.activeElement instanceof HTMLElement) {
    const inCell = document.activeElement.classList.contains('cell-input');
    if (inCell) document.activeElement.blur();
  }
  await new Promise((done) => setTimeout(done, 0));
  await entriesSettled();
}

function resetView(): void {
  view.value = 'schedule';
  atHand.value = { fixtureId: null, run: null, column: null };
  side.value = 'run';
}

/** Saves where it came from, or lets a new file leave. False: not saved, and the reason is said. */
export async function saveJob(as: 'same' | 'new'): Promise<boolean> {
  await settleEntries();
  const saved = history.value;
  if (saved === null) return false;
  const { source, target, writable } = jobFile.value;
  const answer = await during('Saving', () =>
    connection().host.ask('project.save', {
      projectText: writeProject(saved.project),
      sourceFileId: source?.fileId ?? null,
      target: as === 'same' && writable ? (target?.fileId ?? null) : null,
      suggestedName: projectFileName(saved.project),
    }),
  );
  if (!answer.ok) {
    sayReason(answer.reason);
    return false;
  }
  if (answer.value.saved === 'output') connection().host.deliver(answer.value.output);
  // Edits made while it was being saved stay unsaved: only the state that was written is marked.
  if (history.value?.project === saved.project) {
    history.value = markSaved(saved);
    forcedDirty.value = false;
    await dropRecovery();
  }
  const where = answer.value.saved === 'output' ? ` as ${answer.value.output.name}` : '';
  say('status', `Saved${where}.`);
  return true;
}

export async function exportWorkbook(): Promise<void> {
  await settleEntries();
  const now = project.value;
  if (now === null) return;
  const answer = await during('Writing the marked-up schedule', () =>
    connection().host.ask('workbook.export', {
      projectText: writeProject(now),
      suggestedName: workbookFileName(now),
    }),
  );
  if (!answer.ok) return sayReason(answer.reason);
  connection().host.deliver(answer.value.output);
  say('status', `Marked-up schedule written as ${answer.value.output.name}.`);
}

/** True when the open job may be left: saved, given up, or nothing to lose. */
export async function mayLeave(): Promise<boolean> {
  await settleEntries();
  if (!dirty.value) return true;
  const choice = await askUnsaved();
  if (choice === 'cancel') return false;
  if (choice === 'save') return saveJob('same');
  await dropRecovery();
  return true;
}

export async function newJob(): Promise<void> {
  if (!(await mayLeave())) return;
  rememberWorkbook(null);
  openJob(blankProject('New job'), noFile, false);
  resetView();
  say('status', 'New job.');
}

function openSchedule(opened: Extract<OpenedFile, { kind: 'schedule' }>): boolean {
  const read = readWith(opened.workbook, noAnswers);
  if (!read.ok) {
    say('alert', `${read.refusal.where}: ${read.refusal.what} ${read.refusal.todo}`);
    return false;
  }
  const sheets = read.candidates.map(({ sheet }) => sheet);
  rememberWorkbook(opened.workbook, sheets);
  openJob(read.project, { source: opened.file, target: null, writable: false }, false);
  resetView();
  view.value = 'import';
  say('status', `${opened.file.name} was read; nothing is saved as a project so far.`);
  return true;
}

function openSaved(opened: Extract<OpenedFile, { kind: 'project' }>, recovered: boolean): boolean {
  const read = readProject(opened.projectText);
  if (!read.ok) {
    sayReason(read.reason);
    return false;
  }
  rememberWorkbook(null);
  const { file, source, writable } = opened;
  const target = recovered ? null : file;
  openJob(read.project, { source, target, writable: writable && !recovered }, recovered);
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

export async function openFile(file: File): Promise<void> {
  if (!(await mayLeave())) return;
  const held = await during(`Reading ${file.name}`, () => connection().host.hold(file));
  if (held.ok) await openHeld(held.value);
  else sayReason(held.reason);
}

export async function openDemo(): Promise<void> {
  if (!(await mayLeave())) return;
  const answer = await connection().host.ask('file.demo', {});
  if (answer.ok) await openHeld(answer.value);
  else sayReason(answer.reason);
}

export async function openRecovery(recoveryId: string, name: string): Promise<void> {
  if (!(await mayLeave())) return;
  if (await openHeld({ fileId: recoveryId, name }, true)) adoptRecovery(recoveryId);
}

/** Lets the user choose a file and opens it. */
export function chooseFile(): void {
  const input = document.createElement('input');
  input.type = 'file';
  input.accept = '.xlsx,.csv,.tsv,.txt,.runledger';
  input.addEventListener('change', () => {
    const file = input.files?.[0];
    if (file !== undefined) void openFile(file);
  });
  input.click();
}
