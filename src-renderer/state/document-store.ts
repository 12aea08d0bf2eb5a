/** The open job: its history, its solved session, and the one way to change either. */
import { computed, signal } from '@preact/signals';
import type { HeldFile } from '../../src-shared/contract/requests.ts';
import type { Change, Command } from '../../src-shared/document/change.ts';
import type { Edit } from '../../src-shared/document/edit-cell.ts';
import {
  type History,
  isDirty,
  perform,
  redo,
  type Step,
  startHistory,
  undo,
} from '../../src-shared/document/history.ts';
import type { Project } from '../../src-shared/document/project.ts';
import { countFindings, type Finding } from '../../src-shared/limits/finding.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';
import { indexFindings } from './finding-index.ts';
import { say } from './notice.ts';

/** Where the job came from and where a save goes. */
export interface JobFile {
  /** The source workbooks as the host holds them, in the order of the project's `source.files`. */
  readonly sources: readonly HeldFile[];
  /** The project file it was opened from. */
  readonly target: HeldFile | null;
  readonly writable: boolean;
}

export const noFile: JobFile = { sources: [], target: null, writable: false };

export const history = signal<History | null>(null);
export const jobFile = signal<JobFile>(noFile);
/** Counts every solve; reading it subscribes to results. */
export const solves = signal(0);
export const forcedDirty = signal(false);

let engine: EngineSession | null = null;

export type ChangeListener = (changes: readonly Change[] | 'opened') => void;
const listeners = new Set<ChangeListener>();

/** Called after every change, when the session is solved. Returns the way to stop. */
export function onChange(listener: ChangeListener): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

/** The solved session; subscribes the caller to every solve. */
export function solved(): EngineSession | null {
  solves.value;
  return engine;
}

export const project = computed<Project | null>(() => history.value?.project ?? null);
export const dirty = computed(() =>
  history.value === null ? false : forcedDirty.value || isDirty(history.value),
);
export const findings = computed<readonly Finding[]>(() => solved()?.findings ?? []);
/** By fixture, cell and run; made once a solve. */
export const findingIndex = computed(() => {
  const session = solved();
  return indexFindings(findings.value, (id) => session?.factsOf(id)?.fixture.run ?? null);
});
export const counts = computed(() => countFindings(findings.value));
export const lengthUnit = computed(() => project.value?.settings.displayUnit ?? 'ft');

function tell(changes: readonly Change[] | 'opened'): void {
  solves.value += 1;
  for (const listener of listeners) listener(changes);
}

/** Takes a project as the open job. `unsaved`: it stands in no file yet, such as a recovery copy. */
export function openJob(opened: Project, file: JobFile, unsaved: boolean): void {
  engine = new EngineSession(opened);
  history.value = startHistory(opened);
  jobFile.value = file;
  forcedDirty.value = unsaved;
  tell('opened');
}

function take(step: Step | null): boolean {
  if (step === null) return false;
  if (!step.ok) {
    say('alert', step.reason);
    return false;
  }
  if (step.applied.changes.length === 0) return true;
  history.value = step.history;
  engine?.update(step.history.project, step.applied.changes);
  tell(step.applied.changes);
  return true;
}

/** Performs a command as one step of undo. */
export function run(command: Command): boolean {
  return history.value === null ? false : take(perform(history.value, command));
}

/** Performs an edit, or says why it is refused. */
export function runEdit(edit: Edit): boolean {
  if (edit.ok) return run(edit.command);
  say('alert', edit.reason);
  return false;
}

export function undoStep(): boolean {
  const now = history.value;
  const label = now?.past.at(-1)?.label;
  const done = now !== null && take(undo(now));
  if (done && label !== undefined) say('status', `Undone: ${label}.`);
  return done;
}

export function redoStep(): boolean {
  const now = history.value;
  const label = now?.future.at(-1)?.label;
  const done = now !== null && take(redo(now));
  if (done && label !== undefined) say('status', `Done again: ${label}.`);
  return done;
}
