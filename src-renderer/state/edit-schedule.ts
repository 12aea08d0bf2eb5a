/** Writes of the schedule grid: the only way from a key to the document. */
import { type ColumnId, columnById } from '../../src-shared/columns/column-table.ts';
import { blankFixture } from '../../src-shared/document/blank.ts';
import type { Command } from '../../src-shared/document/change.ts';
import { editCell, freeId } from '../../src-shared/document/edit-cell.ts';
import { insertAfter, removeFixtures, setLock } from '../../src-shared/document/edit-rows.ts';
import type { Project } from '../../src-shared/document/project.ts';
import { lengthUnit, project, run, runEdit } from './document-store.ts';
import { hush, say } from './notice.ts';
import { loadSums, readCellText } from './parse-cell.ts';

/** Entries still being read: a save waits for them. */
let pending: Promise<void> = Promise.resolve();

/** Resolves when no entry is on its way any more. */
export function entriesSettled(): Promise<void> {
  return pending;
}

/** Takes the text typed into a cell; says what was understood or why it is refused. */
export function typeIntoCell(fixtureId: string, column: ColumnId, text: string): void {
  const read = readCellText(text, column, lengthUnit.value);
  if (read === 'later') {
    pending = loadSums().then(() => typeIntoCell(fixtureId, column, text));
    return;
  }
  if (!read.ok) {
    say('alert', read.reason);
    return;
  }
  const now = project.value;
  if (now === null) return;
  hush();
  if (!runEdit(editCell(now, fixtureId, column, read.value))) return;
  if (read.echo !== null && read.echo.trim() !== text.trim()) {
    say('status', `${columnById(column).title}: ${read.echo}.`);
  }
}

export function clearCell(fixtureId: string, column: ColumnId): void {
  typeIntoCell(fixtureId, column, '');
}

/** A bare fixture at the end, on no run yet. */
function appendFixture(now: Project): Command {
  const id = freeId(
    'f',
    now.fixtures.map((fixture) => fixture.id),
  );
  const index = now.fixtures.length;
  const records = [blankFixture(id)];
  return {
    label: 'Insert a fixture',
    changes: [{ kind: 'insert', table: 'fixtures', index, records }],
  };
}

/** Puts a fixture behind this one, or at the end; returns the new row's id. */
export function insertBehind(fixtureId: string | null): string | null {
  const now = project.value;
  if (now === null) return null;
  const behind = fixtureId === null ? null : insertAfter(now, fixtureId);
  const command = behind ?? appendFixture(now);
  if (!run(command)) return null;
  const label = command.label.replace(/^Insert/u, 'Inserted');
  say('status', `${label}.`);
  return insertedId(command);
}

function insertedId(command: Command): string | null {
  for (const change of command.changes) {
    if (change.kind === 'insert' && change.table === 'fixtures')
      return change.records[0]?.id ?? null;
  }
  return null;
}

export function removeRow(fixtureId: string): void {
  if (project.value === null) return;
  const command = removeFixtures(project.value, [fixtureId]);
  if (command.changes.length === 0) {
    say('alert', 'The row has locked cells and is kept. Unlock them first.');
    return;
  }
  if (run(command)) say('status', `${command.label.replace(/^Remove/u, 'Removed')}.`);
}

export function isLocked(fixtureId: string, column: ColumnId): boolean {
  const fixture = project.value?.fixtures.find((f) => f.id === fixtureId);
  return fixture?.locks.includes(column) === true;
}

export function toggleLock(fixtureId: string, column: ColumnId): void {
  if (project.value === null) return;
  const { title, edit } = columnById(column);
  if (edit === 'solved') {
    say('alert', `${title} is solved; only what is typed can be locked.`);
    return;
  }
  const lock = !isLocked(fixtureId, column);
  if (run(setLock(project.value, [fixtureId], column, lock))) {
    say('status', `${title} ${lock ? 'locked' : 'unlocked'}.`);
  }
}
