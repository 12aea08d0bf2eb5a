/** What lies between two projects, as changes: so that reading a file again keeps later edits. */
import { type Change, keyOf, type TableName, type TableRecords } from './change.ts';
import type { Project } from './project.ts';

const tables: readonly TableName[] = ['types', 'lines', 'supplies', 'circuits', 'runs', 'fixtures'];
const parts = ['name', 'revision', 'settings', 'profileChanges', 'assumptions', 'source'] as const;

type AnyRecord = TableRecords[TableName];

function same(a: unknown, b: unknown): boolean {
  return a === b || JSON.stringify(a) === JSON.stringify(b);
}

function fieldChanges(table: TableName, before: AnyRecord, after: AnyRecord): Change[] {
  const key = keyOf(table, before);
  const old = before as unknown as Record<string, unknown>;
  return Object.entries(after).flatMap(([field, value]) =>
    same(old[field], value) ? [] : [{ kind: 'set', table, key, field, value } as unknown as Change],
  );
}

function tableChanges(table: TableName, before: Project, after: Project): Change[] {
  const old = new Map<string, AnyRecord>(before[table].map((r) => [keyOf(table, r), r]));
  const next = new Set(after[table].map((r) => keyOf(table, r)));
  const gone = [...old.keys()].filter((key) => !next.has(key));
  const changes: Change[] = gone.length === 0 ? [] : [{ kind: 'remove', table, keys: gone }];
  after[table].forEach((record, index) => {
    const known = old.get(keyOf(table, record));
    if (known === undefined) {
      changes.push({ kind: 'insert', table, index, records: [record] } as unknown as Change);
    } else if (known !== record) changes.push(...fieldChanges(table, known, record));
  });
  return changes;
}

/**
 * Changes that turn `before` into `after`, field by field. Order of rows that stand in both is kept
 * as it was; applied to `before` every record equals that of `after`.
 */
export function diffProjects(before: Project, after: Project): Change[] {
  const changes = tables.flatMap((table) => tableChanges(table, before, after));
  for (const part of parts) {
    if (same(before[part], after[part])) continue;
    changes.push({ kind: 'part', part, value: after[part] } as unknown as Change);
  }
  return changes;
}
