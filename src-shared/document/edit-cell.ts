/** One edited cell as a command: the only way a grid writes. */
import type { ColumnId } from '../columns/column-table.ts';
import { columnById } from '../columns/column-table.ts';
import { blankCircuit, blankRun } from './blank.ts';
import { circuitFieldOf, fixtureFieldOf, runFieldOf, statementFieldOf } from './cell-fields.ts';
import type { Change, Command } from './change.ts';
import { closeGaps } from './close-gaps.ts';
import { feederAtEnd, feedersAfterLeaving, feedersAfterRename } from './follow-feeders.ts';
import type { Circuit, Fixture, Project, Run, RunField, RunStatement } from './project.ts';

export type CellValue = string | number | null;

export type Edit =
  | { readonly ok: true; readonly command: Command }
  | { readonly ok: false; readonly reason: string };

const refuse = (reason: string): Edit => ({ ok: false, reason });

/** A free id such as `c7`. */
export function freeId(prefix: string, taken: Iterable<string>): string {
  let highest = 0;
  for (const id of taken) {
    if (!id.startsWith(prefix)) continue;
    const number = Number(id.slice(prefix.length));
    if (Number.isInteger(number)) highest = Math.max(highest, number);
  }
  return `${prefix}${highest + 1}`;
}

/** What is wrong with a value for a column; null when it fits. Lengths, watts and amps are never negative. */
export function whyUnfit(column: ColumnId, value: CellValue): string | null {
  if (value === null) return null;
  const { kind, title } = columnById(column);
  if (kind === 'text') return typeof value === 'string' ? null : `${title} takes words.`;
  if (typeof value !== 'number' || !Number.isFinite(value)) return `${title} takes a number.`;
  if (value < 0) return `${title} cannot be negative.`;
  if (kind === 'integer' && !Number.isInteger(value)) return `${title} takes a whole number.`;
  if (column === 'place' && value < 1) return 'Place counts from 1.';
  if (column === 'universe' && value < 1) return 'Universe counts from 1.';
  if (column === 'address' && (value < 1 || value > 512)) return 'Start address is 1 to 512.';
  if (column === 'footprint' && (value < 1 || value > 512)) return 'Footprint is 1 to 512 slots.';
  if (column === 'powerFactor' && (value <= 0 || value > 1)) {
    return 'Power factor is over 0 and at most 1.';
  }
  if (column === 'supply' && value === 0) return 'Supply cannot be 0 V.';
  return null;
}

/** Rows of a run stop saying something else about a field the engineer has just set. */
function clearStatements(project: Project, run: string, field: RunField): Change[] {
  return project.fixtures.flatMap((fixture): Change[] => {
    if (fixture.run !== run || fixture.differing?.[field] === undefined) return [];
    const { [field]: _gone, ...rest } = fixture.differing;
    const differing: RunStatement | null = Object.keys(rest).length === 0 ? null : rest;
    return [
      { kind: 'set', table: 'fixtures', key: fixture.id, field: 'differing', value: differing },
    ];
  });
}

/** What could not be read in a column no longer matters once a value is typed there. */
function clearUnread(fixtures: readonly Fixture[], column: ColumnId): Change[] {
  return fixtures.flatMap((fixture): Change[] =>
    fixture.unread.includes(column)
      ? [
          {
            kind: 'set',
            table: 'fixtures',
            key: fixture.id,
            field: 'unread',
            value: fixture.unread.filter((c) => c !== column),
          },
        ]
      : [],
  );
}

function moveToRun(project: Project, fixture: Fixture, name: string | null): Change[] {
  const changes: Change[] = [];
  const set = (field: 'run' | 'place' | 'differing', value: string | number | null) =>
    changes.push({ kind: 'set', table: 'fixtures', key: fixture.id, field, value } as Change);
  if (name !== null && !project.runs.some((run) => run.name === name)) {
    const circuitId = freeId(
      'c',
      project.circuits.map((c) => c.id),
    );
    const circuits = [blankCircuit(circuitId)];
    const runs = [blankRun(name, circuitId)];
    changes.push({
      kind: 'insert',
      table: 'circuits',
      index: project.circuits.length,
      records: circuits,
    });
    changes.push({ kind: 'insert', table: 'runs', index: project.runs.length, records: runs });
  }
  const places = project.fixtures
    .filter((f) => f.run === name && name !== null)
    .map((f) => f.place ?? 0);
  changes.push(...closeGaps(project, new Set([fixture.id])));
  changes.push(...feedersAfterLeaving(project, new Set([fixture.id])));
  changes.push(...feederAtEnd(project, fixture, name));
  set('run', name);
  set('place', name === null ? null : Math.max(0, ...places) + 1);
  if (fixture.differing !== null) set('differing', null);
  return changes;
}

/** Panel or circuit name: the run goes to the circuit of that name, which is made at need. */
function moveToCircuit(
  project: Project,
  run: Run,
  at: Circuit,
  wanted: Pick<Circuit, 'panel' | 'name'>,
): Change[] {
  const same = (c: Circuit) => c.panel === wanted.panel && c.name === wanted.name;
  const found =
    wanted.name === null ? undefined : project.circuits.find((c) => c.id !== at.id && same(c));
  const to = (id: string): Change => ({
    kind: 'set',
    table: 'runs',
    key: run.name,
    field: 'circuitId',
    value: id,
  });
  if (found !== undefined) return [to(found.id)];
  const alone = project.runs.every((r) => r.name === run.name || r.circuitId !== at.id);
  if (alone) {
    return [
      { kind: 'set', table: 'circuits', key: at.id, field: 'panel', value: wanted.panel },
      { kind: 'set', table: 'circuits', key: at.id, field: 'name', value: wanted.name },
    ];
  }
  const id = freeId(
    'c',
    project.circuits.map((c) => c.id),
  );
  const records = [{ ...at, id, ...wanted }];
  return [{ kind: 'insert', table: 'circuits', index: project.circuits.length, records }, to(id)];
}

function editRun(project: Project, run: Run, column: ColumnId, value: CellValue): Change[] | null {
  const statement = statementFieldOf[column];
  const cleared = statement === undefined ? [] : clearStatements(project, run.name, statement);
  const runField = runFieldOf[column];
  if (runField !== undefined) {
    return [
      { kind: 'set', table: 'runs', key: run.name, field: runField, value } as Change,
      ...cleared,
    ];
  }
  const field = circuitFieldOf[column];
  const circuit = project.circuits.find((c) => c.id === run.circuitId);
  if (field === undefined || circuit === undefined) return null;
  if (field === 'panel' || field === 'name') {
    const wanted = { panel: circuit.panel, name: circuit.name, [field]: value as string | null };
    return [...moveToCircuit(project, run, circuit, wanted), ...cleared];
  }
  const others = project.runs.filter((r) => r.circuitId === circuit.id && r.name !== run.name);
  const alsoCleared =
    statement === undefined
      ? []
      : others.flatMap((r) => clearStatements(project, r.name, statement));
  return [
    { kind: 'set', table: 'circuits', key: circuit.id, field, value } as Change,
    ...cleared,
    ...alsoCleared,
  ];
}

/** Who holds a value of a run or circuit locked: the run itself, or a row it stands on. */
function lockHolder(project: Project, run: Run, column: ColumnId): string | null {
  // Panel and circuit take this run elsewhere; breaker and protection hold for all runs of the circuit.
  const shared = column === 'breaker' || column === 'protection';
  const runs = project.runs.filter(
    (r) => r.name === run.name || (shared && r.circuitId === run.circuitId),
  );
  const locked = runs.find((r) => r.locks.includes(column));
  if (locked !== undefined) return `run ${locked.name}`;
  const names = new Set<string | null>(runs.map((r) => r.name));
  const row = project.fixtures.find((f) => names.has(f.run) && f.locks.includes(column));
  return row === undefined ? null : (row.tag ?? 'a row of the run');
}

/** True for the fixture nearest the head box: its span is the lead-in. */
function isFirstOfRun(project: Project, fixture: Fixture): boolean {
  const rank = (f: Fixture) => f.place ?? Number.MAX_SAFE_INTEGER;
  const first = project.fixtures.reduce<Fixture | null>(
    (best, f) => (f.run === fixture.run && (best === null || rank(f) < rank(best)) ? f : best),
    null,
  );
  return first?.id === fixture.id;
}

/** Outer blanks are nobody's meaning, and a blank text is no value. */
function tidied(value: CellValue): CellValue {
  if (typeof value !== 'string') return value;
  const text = value.trim();
  return text === '' ? null : text;
}

function isChange(project: Project, run: Run, change: Change): boolean {
  if (change.kind !== 'set') return true;
  if (change.table === 'runs') return change.key !== run.name || run[change.field] !== change.value;
  if (change.table !== 'circuits') return true;
  const circuit = project.circuits.find((c) => c.id === change.key);
  return circuit?.[change.field] !== change.value;
}

/**
 * The command that puts a value (SI) into a cell. A value of a run or circuit is set once for all
 * its rows. Refused: a value that does not fit, a locked cell, a column nobody types into. Without
 * changes when the value stands there already.
 */
export function editCell(
  project: Project,
  fixtureId: string,
  column: ColumnId,
  wanted: CellValue,
): Edit {
  const value = tidied(wanted);
  const fixture = project.fixtures.find((f) => f.id === fixtureId);
  if (fixture === undefined) return refuse('That row is gone.');
  const { title, edit } = columnById(column);
  if (edit === 'solved') return refuse(`${title} is solved, not typed.`);
  if (column === 'quantity') {
    return refuse(`${title} belongs to the row of the source; insert or remove rows instead.`);
  }
  const name = fixture.tag ?? 'this row';
  if (fixture.locks.includes(column)) return refuse(`${title} of ${name} is locked.`);
  const unfit = whyUnfit(column, value);
  if (unfit !== null) return refuse(unfit);
  const run = project.runs.find((r) => r.name === fixture.run);
  const label = `${title} of ${fixture.tag ?? 'a fixture'}`;
  const done = (changes: Change[]): Edit => ({ ok: true, command: { label, changes } });
  if (column === 'run') {
    if (fixture.run === value) return done([]);
    if (fixture.locks.includes('place')) return refuse(`Place of ${name} is locked.`);
    return done(moveToRun(project, fixture, value as string | null));
  }
  const leadIn =
    column === 'span' &&
    run !== undefined &&
    run.leadInM !== null &&
    isFirstOfRun(project, fixture);
  const field = leadIn ? undefined : fixtureFieldOf[column];
  if (field !== undefined) {
    const unread = clearUnread([fixture], column);
    if (fixture[field] === value) return done(unread);
    const set = { kind: 'set', table: 'fixtures', key: fixtureId, field, value } as Change;
    const renamed = column === 'tag';
    return done([
      set,
      ...unread,
      ...(renamed ? feedersAfterRename(project, fixture, value as string | null) : []),
    ]);
  }
  if (run === undefined) return refuse(`${title} belongs to a run; give this fixture a run first.`);
  const at = leadIn ? 'leadIn' : column;
  const holder = lockHolder(project, run, at);
  if (holder !== null) return refuse(`${columnById(at).title} of ${holder} is locked.`);
  const changes = editRun(project, run, at, value);
  if (changes === null) return refuse(`${title} is solved, not typed.`);
  const members = project.fixtures.filter((f) => f.run === run.name);
  const unread = clearUnread(members, at);
  return done([...changes.filter((change) => isChange(project, run, change)), ...unread]);
}

/** Several commands as one step of undo. Each must have been made for the project the one before it leaves. */
export function asOneStep(label: string, commands: readonly Command[]): Command {
  return { label, changes: commands.flatMap((command) => command.changes) };
}
