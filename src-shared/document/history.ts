import { applyCommand } from './apply.ts';
import type { Command } from './change.ts';
import type { Project } from './project.ts';

/** A project with its past and future. Plain data; every function returns a new one. */
export interface History {
  readonly project: Project;
  readonly past: readonly Command[];
  readonly future: readonly Command[];
  /** Length of `past` when the project was last saved; null: the saved state cannot be reached. */
  readonly savedAt: number | null;
}

export type Step =
  | { readonly ok: true; readonly history: History; readonly applied: Command }
  | { readonly ok: false; readonly reason: string };

export function startHistory(project: Project): History {
  return { project, past: [], future: [], savedAt: 0 };
}

/** Applies a command as one undo step. A command without changes is no step. */
export function perform(history: History, command: Command): Step {
  if (command.changes.length === 0) return { ok: true, history, applied: command };
  const applied = applyCommand(history.project, command);
  if (!applied.ok) return applied;
  const lost = history.savedAt !== null && history.savedAt > history.past.length;
  return {
    ok: true,
    applied: command,
    history: {
      project: applied.project,
      past: [...history.past, applied.inverse],
      future: [],
      savedAt: lost ? null : history.savedAt,
    },
  };
}

type Side = 'past' | 'future';

/** Moves the latest command of one side over to the other, applied; null when that side is empty. */
function turn(history: History, from: Side, to: Side): Step | null {
  const command = history[from].at(-1);
  if (command === undefined) return null;
  const applied = applyCommand(history.project, command);
  if (!applied.ok) return applied;
  return {
    ok: true,
    applied: command,
    history: {
      ...history,
      project: applied.project,
      [from]: history[from].slice(0, -1),
      [to]: [...history[to], applied.inverse],
    },
  };
}

/** Takes back the latest step; null when there is none. */
export function undo(history: History): Step | null {
  return turn(history, 'past', 'future');
}

/** Does again the latest step taken back; null when there is none. */
export function redo(history: History): Step | null {
  return turn(history, 'future', 'past');
}

/** Marks the present state as the saved one. */
export function markSaved(history: History): History {
  return { ...history, savedAt: history.past.length };
}

/** True when there is something a save would add. */
export function isDirty(history: History): boolean {
  return history.savedAt !== history.past.length;
}
