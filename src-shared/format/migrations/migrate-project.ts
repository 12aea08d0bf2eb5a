import { type FormatReason, OPEN_A_BACKUP } from '../format-reason.ts';
import type { Migration } from './migration.ts';

export type Migrated =
  | { readonly ok: true; readonly project: unknown }
  | { readonly ok: false; readonly reason: FormatReason };

function failed(what: string): Migrated {
  return {
    ok: false,
    reason: { code: 'bad-migration', what, where: 'project', todo: OPEN_A_BACKUP },
  };
}

/**
 * Brings raw project JSON of version `from` to version `to`, one step after the other. Does not
 * throw: a step that is missing or fails is a reason. The result still has to be checked.
 */
export function migrateProject(
  raw: unknown,
  from: number,
  to: number,
  steps: readonly Migration[],
): Migrated {
  let project = raw;
  for (let version = from; version < to; version += 1) {
    const step = steps.find((candidate) => candidate.from === version);
    if (step === undefined) {
      return failed(`There is no step from version ${version} of the project file to the next.`);
    }
    try {
      project = step.migrate(project);
    } catch {
      return failed(
        `The project says it is of version ${version} but does not hold what that version holds.`,
      );
    }
  }
  return { ok: true, project };
}
