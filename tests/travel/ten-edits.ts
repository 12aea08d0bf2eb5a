/** Ten edits such as an engineer makes, each one command, chosen by position so that any job takes them. */
import type { ColumnId } from '../../src-shared/columns/column-table.ts';
import { applyCommand } from '../../src-shared/document/apply.ts';
import type { Command } from '../../src-shared/document/change.ts';
import { type CellValue, editCell } from '../../src-shared/document/edit-cell.ts';
import { insertAfter, removeFixtures } from '../../src-shared/document/edit-rows.ts';
import type { Fixture, Project } from '../../src-shared/document/project.ts';

export interface Edited {
  readonly project: Project;
  /** What was done, by what it was done to. */
  readonly done: readonly string[];
}

/** Fixtures that stand alone on a row of the opened file: edits of theirs have a cell to go to. */
function aloneOnRow(project: Project): Fixture[] {
  const rows = new Map<string, number>();
  const key = ({ origin }: Fixture) => `${origin?.file} ${origin?.sheet} ${origin?.row}`;
  for (const fixture of project.fixtures) rows.set(key(fixture), (rows.get(key(fixture)) ?? 0) + 1);
  const alone = project.fixtures.filter((f) => f.origin?.file === 0 && rows.get(key(f)) === 1);
  return alone.length >= 9 ? alone : [...project.fixtures];
}

/** Makes the ten edits. Throws where one is refused: then the test would not test it. */
export function tenEdits(start: Project): Edited {
  let project = start;
  const done: string[] = [];
  const chosen = aloneOnRow(start);
  const at = (place: number): Fixture => {
    const fixture = chosen[place];
    if (fixture === undefined) throw new Error(`the job has only ${chosen.length} fixtures`);
    return fixture;
  };
  const apply = (command: Command) => {
    const applied = applyCommand(project, command);
    if (!applied.ok) throw new Error(applied.reason);
    project = applied.project;
  };
  const edit = (fixture: Fixture, column: ColumnId, value: CellValue) => {
    const result = editCell(project, fixture.id, column, value);
    if (!result.ok) throw new Error(`${column} of ${fixture.tag}: ${result.reason}`);
    apply(result.command);
    done.push(`${column} of ${fixture.tag} to ${value}`);
  };
  const typeOf = (fixture: Fixture) =>
    start.types.find(({ name }) => name !== fixture.type)?.name ?? 'Z9';
  edit(at(0), 'tag', 'X-001');
  edit(at(1), 'load', 41.5);
  edit(at(2), 'span', 2.75);
  edit(at(3), 'remarks', '=1+1 & <b>"two"</b>');
  edit(at(4), 'universe', 3);
  edit(at(4), 'address', 101);
  edit(at(5), 'type', typeOf(at(5)));
  // What holds for a run needs a run to hold for.
  if (at(6).run === null) edit(at(6), 'description', 'spare head');
  else edit(at(6), 'supply', 208);
  const inserted = insertAfter(project, at(7).id);
  if (inserted === null) throw new Error('nothing could be inserted');
  apply(inserted);
  done.push(`a fixture behind ${at(7).tag}`);
  apply(removeFixtures(project, [at(8).id]));
  done.push(`${at(8).tag} removed`);
  return { project, done };
}
