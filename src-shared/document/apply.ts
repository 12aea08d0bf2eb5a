import type { Change, Command, TableName, TableRecords } from './change.ts';
import { keyOf } from './change.ts';
import type { Project } from './project.ts';
import { whyStillUsed } from './still-used.ts';

export type Applied =
  | { readonly ok: true; readonly project: Project; readonly inverse: Command }
  | { readonly ok: false; readonly reason: string };

type AnyRecord = TableRecords[TableName];

/** Finds records by key; the map is made at the second look-up, since most commands need one only. */
class KeyIndex {
  private map: Map<string, number> | null = null;
  private lookups = 0;
  constructor(
    private readonly table: TableName,
    private readonly records: readonly AnyRecord[],
  ) {}

  find(key: string): number {
    this.lookups += 1;
    if (this.lookups < 4) return this.records.findIndex((r) => keyOf(this.table, r) === key);
    if (this.map === null) {
      this.map = new Map();
      for (let i = this.records.length - 1; i >= 0; i -= 1) {
        const record = this.records[i];
        if (record !== undefined) this.map.set(keyOf(this.table, record), i);
      }
    }
    return this.map.get(key) ?? -1;
  }
}

/** A project being rewritten: each touched table is copied once, whatever the number of changes. */
class Draft {
  private readonly copies = new Map<TableName, AnyRecord[]>();
  private readonly indexes = new Map<TableName, KeyIndex>();
  private parts: Partial<Project> = {};
  constructor(private readonly base: Project) {}

  rows(table: TableName): AnyRecord[] {
    let rows = this.copies.get(table);
    if (rows === undefined) {
      rows = [...this.base[table]];
      this.copies.set(table, rows);
    }
    return rows;
  }

  find(table: TableName, key: string): number {
    let index = this.indexes.get(table);
    if (index === undefined) {
      index = new KeyIndex(table, this.rows(table));
      this.indexes.set(table, index);
    }
    return index.find(key);
  }

  forgetIndex(table: TableName): void {
    this.indexes.delete(table);
  }

  part(part: keyof Project): Project[keyof Project] {
    return part in this.parts ? (this.parts[part] as Project[keyof Project]) : this.base[part];
  }

  setPart(part: keyof Project, value: Project[keyof Project]): void {
    this.parts = { ...this.parts, [part]: value };
  }

  finish(): Project {
    return { ...this.base, ...this.parts, ...Object.fromEntries(this.copies) } as Project;
  }
}

function applyChange(draft: Draft, change: Change): Change[] | string {
  if (change.kind === 'part') {
    const before = draft.part(change.part);
    draft.setPart(change.part, change.value);
    return [{ kind: 'part', part: change.part, value: before } as Change];
  }
  const { table } = change;
  const rows = draft.rows(table);
  if (change.kind === 'set') {
    const at = draft.find(table, change.key);
    const record = rows[at];
    if (record === undefined) return `There is no "${change.key}" in ${table}.`;
    const before = (record as unknown as Record<string, unknown>)[change.field];
    const next = { ...record, [change.field]: change.value } as AnyRecord;
    const newKey = keyOf(table, next);
    if (newKey !== change.key) {
      if (draft.find(table, newKey) >= 0) return `"${newKey}" stands in ${table} already.`;
      draft.forgetIndex(table);
    }
    rows[at] = next;
    return [{ kind: 'set', table, key: newKey, field: change.field, value: before } as Change];
  }
  if (change.kind === 'insert') {
    const keys = new Set<string>();
    for (const record of change.records) {
      const key = keyOf(table, record);
      if (keys.has(key) || draft.find(table, key) >= 0) {
        return `"${key}" stands in ${table} already.`;
      }
      keys.add(key);
    }
    if (change.index < 0 || change.index > rows.length)
      return `No row ${change.index} in ${table}.`;
    rows.splice(change.index, 0, ...change.records);
    draft.forgetIndex(table);
    return [{ kind: 'remove', table, keys: [...keys] } as Change];
  }
  const doomed = new Set(change.keys);
  const restores: Change[] = [];
  const kept: AnyRecord[] = [];
  rows.forEach((record, index) => {
    if (doomed.delete(keyOf(table, record))) {
      restores.push({ kind: 'insert', table, index, records: [record] } as unknown as Change);
    } else kept.push(record);
  });
  const [missing] = doomed;
  if (missing !== undefined) return `There is no "${missing}" in ${table}.`;
  rows.length = 0;
  for (const record of kept) rows.push(record);
  draft.forgetIndex(table);
  return restores;
}

/**
 * Applies a command to a project: the new project and the command that undoes it, or the reason
 * why nothing was done: a change that does not fit, or a run or circuit that is still used once all
 * of them are made. Pure: the project given is never touched.
 */
export function applyCommand(project: Project, command: Command): Applied {
  const draft = new Draft(project);
  const inverses: Change[][] = [];
  for (const change of command.changes) {
    const inverse = applyChange(draft, change);
    if (typeof inverse === 'string') return { ok: false, reason: inverse };
    inverses.push(inverse);
  }
  const after = draft.finish();
  const reason = whyStillUsed(project, after);
  if (reason !== null) return { ok: false, reason };
  const inverse: Command = { label: command.label, changes: inverses.reverse().flat() };
  return { ok: true, project: after, inverse };
}
