/** One record as it was read, as it is now, and as the revised file has it. */
import type { TableName } from '../../document/change.ts';
import { columnOfField, type Difference } from './difference.ts';

/** True for values that are equal as plain data. */
export function same(a: unknown, b: unknown): boolean {
  return a === b || JSON.stringify(a) === JSON.stringify(b);
}

export interface ThreeWay<R extends object> {
  readonly table: TableName | 'project';
  readonly key: string;
  readonly name: string;
  /** As the file gave it before. */
  readonly base: R;
  /** As the project has it, with the engineer's edits. */
  readonly current: R;
  /** As the revised file gives it. */
  readonly revised: R;
  readonly isLocked: (field: string) => boolean;
}

export interface Revised<R> {
  readonly record: R;
  readonly differences: readonly Difference[];
}

const LOCKED = 'locked: it stays';
const BOTH = 'you have changed it too: yours stays';

/**
 * The fields of a record after the revision: what only the file changed is taken; what is locked, or
 * what the engineer changed too, stays and is listed.
 */
export function reviseFields<R extends object>(
  fields: readonly (keyof R & string)[],
  { table, key, name, base, current, revised, isLocked }: ThreeWay<R>,
): Revised<R> {
  const record = { ...current };
  const differences: Difference[] = [];
  for (const field of fields) {
    const [was, now, has] = [base[field], revised[field], current[field]];
    if (same(was, now) || same(has, now)) continue;
    const column = table === 'project' ? null : (columnOfField[table]?.get(field) ?? null);
    const said = { table, key, name, field, column, was: has, now };
    if (isLocked(column ?? field)) differences.push({ ...said, kind: 'locked', note: LOCKED });
    else if (!same(was, has)) differences.push({ ...said, kind: 'conflict', note: BOTH });
    else {
      record[field] = now;
      differences.push({ ...said, kind: 'changed', note: '' });
    }
  }
  return { record, differences };
}
