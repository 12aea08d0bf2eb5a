import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { applyCommand } from '../../src-shared/document/apply.ts';
import { diffProjects } from '../../src-shared/document/diff-projects.ts';
import { editCell } from '../../src-shared/document/edit-cell.ts';
import { insertAfter, removeFixtures } from '../../src-shared/document/edit-rows.ts';
import type { Project } from '../../src-shared/document/project.ts';
import { demoJob } from './demo-rows.ts';

const start = demoJob().project;

function apply(project: Project, label: string, changes: ReturnType<typeof diffProjects>): Project {
  const applied = applyCommand(project, { label, changes });
  if (!applied.ok) throw new Error(applied.reason);
  return applied.project;
}

/** Records by key, since rows keep the order they had. */
function byKey(project: Project): unknown {
  const sorted = (list: readonly object[]) => list.map((r) => JSON.stringify(r)).sort();
  const { types, lines, supplies, circuits, runs, fixtures, ...parts } = project;
  return { parts, tables: [types, lines, supplies, circuits, runs, fixtures].map(sorted) };
}

describe('what lies between two projects', () => {
  test('nothing between equals', () => {
    expect(diffProjects(start, { ...start })).toEqual([]);
    expect(diffProjects(start, structuredClone(start))).toEqual([]);
  });

  test('applied to the first it gives the second, whatever was edited (property)', () => {
    const at = fc.integer({ min: 0, max: start.fixtures.length - 1 });
    const step = fc.oneof(
      fc.tuple(fc.constant('span'), at, fc.double({ min: 0, max: 30, noNaN: true })),
      fc.tuple(fc.constant('run'), at, fc.constantFrom('A1', 'B1', 'new')),
      fc.tuple(fc.constant('insert'), at, fc.constant(0)),
      fc.tuple(fc.constant('remove'), at, fc.constant(0)),
    );
    fc.assert(
      fc.property(fc.array(step, { maxLength: 8 }), (steps) => {
        let next = start;
        for (const [what, index, value] of steps) {
          const id = next.fixtures[index % next.fixtures.length]?.id ?? '';
          const edit =
            what === 'span' || what === 'run'
              ? editCell(next, id, what, value as string | number)
              : null;
          const command =
            what === 'insert'
              ? insertAfter(next, id)
              : what === 'remove'
                ? removeFixtures(next, [id])
                : edit?.ok === true
                  ? edit.command
                  : null;
          if (command !== null) next = apply(next, command.label, [...command.changes]);
        }
        expect(byKey(apply(start, 'diff', diffProjects(start, next)))).toEqual(byKey(next));
      }),
      { seed: 7311, numRuns: 60 },
    );
  });

  test('an edit made meanwhile elsewhere stays', () => {
    const reread = editCell(start, 'f3', 'span', 9);
    if (!reread.ok) throw new Error(reread.reason);
    const after = apply(start, 'x', [...reread.command.changes]);
    const mine = editCell(start, 'f7', 'span', 4);
    if (!mine.ok) throw new Error(mine.reason);
    const edited = apply(start, 'y', [...mine.command.changes]);
    const both = apply(edited, 'z', diffProjects(start, after));
    expect(both.fixtures.find((f) => f.id === 'f3')?.spanM).toBe(9);
    expect(both.fixtures.find((f) => f.id === 'f7')?.spanM).toBe(4);
  });
});
