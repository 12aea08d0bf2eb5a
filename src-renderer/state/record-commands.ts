/** Commands on types, lines, supplies and runs. A name is a key: renaming takes its users along. */
import {
  blankCircuit,
  blankLine,
  blankRun,
  blankSupply,
  blankType,
} from '../../src-shared/document/blank.ts';
import type { Change, TableName, TableRecords } from '../../src-shared/document/change.ts';
import { type Edit, freeId } from '../../src-shared/document/edit-cell.ts';
import type { Project } from '../../src-shared/document/project.ts';
import { nameKey } from '../../src-shared/solve/fixture-facts.ts';

export type NamedTable = 'types' | 'lines' | 'supplies' | 'runs';

const word: Readonly<Record<NamedTable, string>> = {
  types: 'type',
  lines: 'line',
  supplies: 'supply',
  runs: 'run',
};

const refuse = (reason: string): Edit => ({ ok: false, reason });

/** Sets one field of a record; no command where it has that value already. */
export function setField<T extends TableName, F extends keyof TableRecords[T]>(
  table: T,
  key: string,
  field: F,
  value: TableRecords[T][F],
  label: string,
): Edit {
  const change = { kind: 'set', table, key, field, value } as unknown as Change;
  return { ok: true, command: { label, changes: [change] } };
}

/** Everything that names a record, set to its new name. */
function renameUsers(project: Project, table: NamedTable, from: string, to: string): Change[] {
  const same = (name: string | null) => name !== null && nameKey(name) === nameKey(from);
  switch (table) {
    case 'types':
      return project.fixtures.flatMap((f): Change[] =>
        same(f.type)
          ? [{ kind: 'set', table: 'fixtures', key: f.id, field: 'type', value: to }]
          : [],
      );
    case 'runs':
      return project.fixtures.flatMap((f): Change[] =>
        f.run === from
          ? [{ kind: 'set', table: 'fixtures', key: f.id, field: 'run', value: to }]
          : [],
      );
    case 'supplies':
      return project.circuits.flatMap((c): Change[] =>
        same(c.panel)
          ? [{ kind: 'set', table: 'circuits', key: c.id, field: 'panel', value: to }]
          : [],
      );
    case 'lines': {
      const runs = project.runs.flatMap((r): Change[] =>
        same(r.line) ? [{ kind: 'set', table: 'runs', key: r.name, field: 'line', value: to }] : [],
      );
      const settings = { ...project.settings, defaultLine: to };
      const own: Change[] = same(project.settings.defaultLine)
        ? [{ kind: 'part', part: 'settings', value: settings }]
        : [];
      return [...runs, ...own];
    }
  }
}

export function renameRecord(
  project: Project,
  table: NamedTable,
  from: string,
  text: string,
): Edit {
  const to = text.trim();
  if (to === '') return refuse(`A ${word[table]} needs a name.`);
  const label = `Name of ${word[table]} ${from}`;
  if (to === from) return { ok: true, command: { label, changes: [] } };
  const taken = project[table].some((r) => r.name !== from && nameKey(r.name) === nameKey(to));
  if (taken) return refuse(`There is a ${word[table]} ${to} already.`);
  const rename = { kind: 'set', table, key: from, field: 'name', value: to } as unknown as Change;
  const users = renameUsers(project, table, from, to);
  // A run's row must stand under its new name before its fixtures move to it.
  return { ok: true, command: { label, changes: [rename, ...users] } };
}

function freeName(project: Project, table: NamedTable, stem: string): string {
  const taken = new Set(project[table].map(({ name }) => nameKey(name)));
  let number = project[table].length + 1;
  while (taken.has(nameKey(`${stem} ${number}`))) number += 1;
  return `${stem} ${number}`;
}

/** A new record with a free name, at the end of its table. */
export function addRecord(project: Project, table: NamedTable): { edit: Edit; name: string } {
  const stem = { types: 'Type', lines: 'Line', supplies: 'Panel', runs: 'Run' }[table];
  const name = freeName(project, table, stem);
  const index = project[table].length;
  const label = `Add ${word[table]} ${name}`;
  const done = (...changes: Change[]) => ({
    edit: { ok: true, command: { label, changes } } as const,
    name,
  });
  switch (table) {
    case 'types':
      return done({ kind: 'insert', table, index, records: [blankType(name)] });
    case 'lines':
      return done({ kind: 'insert', table, index, records: [blankLine(name)] });
    case 'supplies':
      return done({ kind: 'insert', table, index, records: [blankSupply(name)] });
    case 'runs': {
      const id = freeId(
        'c',
        project.circuits.map((c) => c.id),
      );
      const at = project.circuits.length;
      return done(
        { kind: 'insert', table: 'circuits', index: at, records: [blankCircuit(id)] },
        { kind: 'insert', table, index, records: [blankRun(name, id)] },
      );
    }
  }
}

/** How many records name this one: fixtures of a type or run, runs of a line, circuits of a supply. */
export function usersOf(project: Project, table: NamedTable, name: string): number {
  return renameUsers(project, table, name, name).length;
}

/** Removes a record nobody uses. */
export function removeRecord(project: Project, table: NamedTable, name: string): Edit {
  const users = usersOf(project, table, name);
  if (users > 0) {
    const what = table === 'supplies' ? 'circuit' : table === 'lines' ? 'place' : 'fixture';
    return refuse(
      `${name} is used by ${users} ${what}${users === 1 ? '' : 's'}; change those first.`,
    );
  }
  const change = { kind: 'remove', table, keys: [name] } as const;
  return { ok: true, command: { label: `Remove ${word[table]} ${name}`, changes: [change] } };
}
