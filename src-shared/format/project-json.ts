/** The document part of a project file: a project as versioned JSON text, and back. */
import { z } from 'zod';
import type { Project } from '../document/project.ts';
import { arrangerOf } from './arrange-fields.ts';
import { checkReferences } from './check-references.ts';
import { type FormatReason, OPEN_A_BACKUP, pathText } from './format-reason.ts';
import { migrateProject } from './migrations/migrate-project.ts';
import type { Migration } from './migrations/migration.ts';
import { migrations } from './migrations/migration-list.ts';
import { projectSchema } from './project-schema.ts';

/** Stands in every project text, so that another JSON file is told apart. */
export const PROJECT_FORMAT = 'runledger-project';

/** The version this program writes: one more than the last migration reads. */
export const PROJECT_VERSION = migrations.length + 1;

export type ReadProject =
  | { readonly ok: true; readonly project: Project; readonly migrated: boolean }
  | { readonly ok: false; readonly reason: FormatReason };

const envelope = z.strictObject({
  format: z.literal(PROJECT_FORMAT),
  version: z.int().min(1),
  project: z.unknown(),
});

const arrange = arrangerOf(projectSchema) ?? ((project: unknown) => project);

/**
 * A project as JSON text of the present version. Equal projects give the same bytes, however their
 * records were built.
 */
export function writeProject(project: Project): string {
  const file = { format: PROJECT_FORMAT, version: PROJECT_VERSION, project: arrange(project) };
  return `${JSON.stringify(file)}\n`;
}

function refused(code: string, what: string, where: string, todo = OPEN_A_BACKUP): ReadProject {
  return { ok: false, reason: { code, what, where, todo } };
}

function checked(raw: unknown, migrated: boolean): ReadProject {
  const parsed = projectSchema.safeParse(raw);
  if (!parsed.success) {
    const issue = parsed.error.issues[0];
    const where = pathText(['project', ...(issue?.path ?? [])]);
    const detail = issue?.message ?? 'not of its form';
    return refused('bad-value', `The project does not have the form it should: ${detail}.`, where);
  }
  const reason = checkReferences(parsed.data);
  return reason === null ? { ok: true, project: parsed.data, migrated } : { ok: false, reason };
}

/** Reads a file of any version up to `migrations.length + 1`; `readProject` with the steps given. */
export function readProjectWith(text: string, steps: readonly Migration[]): ReadProject {
  let file: unknown;
  try {
    file = JSON.parse(text);
  } catch {
    return refused(
      'not-json',
      'The project is not whole: its text breaks off or is damaged.',
      'project',
    );
  }
  const head = envelope.safeParse(file);
  if (!head.success) {
    const where = pathText(head.error.issues[0]?.path ?? []) || 'project';
    return refused('not-a-project', 'The text is not a Runledger project.', where);
  }
  const { version, project } = head.data;
  const present = steps.length + 1;
  if (version > present) {
    return refused(
      'newer-version',
      `The project was saved by a newer Runledger: its format is version ${version}, this program reads up to ${present}.`,
      'version',
      'Install the newer Runledger, or ask for the marked-up workbook and import that.',
    );
  }
  if (version === present) return checked(project, false);
  const migrated = migrateProject(project, version, present, steps);
  return migrated.ok ? checked(migrated.project, true) : migrated;
}

/**
 * Reads what `writeProject` wrote, of this version or an older one (`migrated` is then true). Never
 * throws: text that is not JSON, not a project, of a newer version, of the wrong form or with
 * references that lead nowhere comes back as a reason.
 */
export function readProject(text: string): ReadProject {
  return readProjectWith(text, migrations);
}
