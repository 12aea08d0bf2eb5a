import { describe, expect, test } from 'vitest';
import {
  addRecord,
  removeRecord,
  renameRecord,
  usersOf,
} from '../../src-renderer/state/record-commands.ts';
import { applyCommand } from '../../src-shared/document/apply.ts';
import type { Edit } from '../../src-shared/document/edit-cell.ts';
import type { Project } from '../../src-shared/document/project.ts';
import { writeProject } from '../../src-shared/format/project-json.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';
import { demoJob } from './demo-rows.ts';

function changed(project: Project, edit: Edit): Project {
  if (!edit.ok) throw new Error(edit.reason);
  const applied = applyCommand(project, edit.command);
  if (!applied.ok) throw new Error(applied.reason);
  const back = applyCommand(applied.project, applied.inverse);
  // Undo leaves the very bytes.
  expect(back.ok && writeProject(back.project)).toBe(writeProject(project));
  return applied.project;
}

const project = demoJob().project;
const broken = (of: Project) =>
  new EngineSession(of).findings.filter((f) => f.severity === 'stop' || f.severity === 'breach')
    .length;

describe('records by name', () => {
  test.each([
    ['types', 'RB1', 'RB1X'],
    ['runs', 'A1', 'North'],
    ['lines', 'H12', 'H12 mk 2'],
    ['supplies', 'LP-R', 'LP-R2'],
  ] as const)(
    'a new name in %s takes its users along; the findings are the same ten',
    (table, from, to) => {
      const next = changed(project, renameRecord(project, table, from, to));
      expect(usersOf(next, table, to)).toBe(usersOf(project, table, from));
      expect(usersOf(next, table, from)).toBe(0);
      expect(broken(next)).toBe(10);
    },
  );

  test('a name that is taken or empty is refused', () => {
    expect(renameRecord(project, 'types', 'RB1', ' rc2 ')).toMatchObject({ ok: false });
    expect(renameRecord(project, 'runs', 'A1', '  ')).toMatchObject({ ok: false });
  });

  test('what is used is not removed; what was added can be', () => {
    expect(removeRecord(project, 'types', 'RB1')).toMatchObject({
      ok: false,
      reason: expect.stringContaining('36 fixtures'),
    });
    for (const table of ['types', 'lines', 'supplies', 'runs'] as const) {
      const { edit, name } = addRecord(project, table);
      const grown = changed(project, edit);
      expect(grown[table].length).toBe(project[table].length + 1);
      expect(changed(grown, removeRecord(grown, table, name))[table].length).toBe(
        project[table].length,
      );
    }
  });
});
