/** A revised file, or a file read with other answers, taken into a project that was edited since. Cases invented. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ColumnId } from '../../src-shared/columns/column-table.ts';
import { applyCommand } from '../../src-shared/document/apply.ts';
import { type CellValue, editCell } from '../../src-shared/document/edit-cell.ts';
import { insertAfter, removeFixtures } from '../../src-shared/document/edit-rows.ts';
import type { Fixture, Project } from '../../src-shared/document/project.ts';
import { movedAnswers } from '../../src-shared/exchange/revise/moved-answers.ts';
import { reviseProject } from '../../src-shared/exchange/revise/revise-project.ts';
import { checkReferences } from '../../src-shared/format/check-references.ts';
import {
  answersFor,
  type CellInput,
  readBook,
  readRowsOf,
  sheetOf,
  workbookOf,
} from './build-workbook.ts';

const header = ['Tag', 'Type', 'Run', 'Place', 'Span m', 'Load W', 'Panel', 'Circuit', 'Breaker A'];
type Row = readonly CellInput[];
const row = (tag: string, place: number, span = 2, load = 40, run = 'R1'): Row => [
  tag,
  'T',
  run,
  place,
  span,
  load,
  'LP',
  run === 'R1' ? '1' : '3',
  16,
];
const body: readonly Row[] = [row('A-1', 1), row('A-2', 2), row('A-3', 3), row('A-4', 4)];
const read = (rows: readonly Row[]): Project => readRowsOf([header, ...rows]);
const base = read(body);

function edit(project: Project, tag: string, column: ColumnId, value: CellValue): Project {
  const id = project.fixtures.find((f) => f.tag === tag)?.id ?? '';
  const edited = editCell(project, id, column, value);
  if (!edited.ok) throw new Error(edited.reason);
  return apply(project, edited.command.changes);
}

function apply(project: Project, changes: Parameters<typeof applyCommand>[1]['changes']): Project {
  const applied = applyCommand(project, { label: 'x', changes });
  if (!applied.ok) throw new Error(applied.reason);
  return applied.project;
}

function locked(project: Project, tag: string, ...locks: string[]): Project {
  const key = project.fixtures.find((f) => f.tag === tag)?.id ?? '';
  return apply(project, [{ kind: 'set', table: 'fixtures', key, field: 'locks', value: locks }]);
}

function revise(current: Project, revised: Project, from = base) {
  const { changes, differences } = reviseProject(current, from, revised);
  const project = apply(current, changes);
  expect(checkReferences(project)).toBeNull();
  const told = differences.map(
    (d) => `${d.kind} ${d.name}${d.field === null ? '' : ` ${d.field}`}`,
  );
  return { project, differences, told };
}

const tags = (project: Project) => project.fixtures.map(({ tag }) => tag);
const byTag = (project: Project, tag: string): Fixture | undefined =>
  project.fixtures.find((f) => f.tag === tag);

describe('fixtures', () => {
  it('added, removed and changed', () => {
    const next = read([row('A-1', 1), row('A-2', 2, 2.5), row('A-4', 3), row('A-5', 4)]);
    const { project, told } = revise(base, next);
    expect(tags(project)).toEqual(['A-1', 'A-2', 'A-4', 'A-5']);
    expect(told).toEqual(['changed A-2 spanM', 'removed A-3', 'changed A-4 place', 'added A-5']);
    expect(byTag(project, 'A-2')?.spanM).toBe(2.5);
    expect(byTag(project, 'A-4')?.id).toBe(byTag(base, 'A-4')?.id);
  });

  it('stand where the file has them', () => {
    const next = read([row('A-1', 1), row('A-9', 2), row('A-2', 3), row('A-3', 4), row('A-4', 5)]);
    expect(tags(revise(base, next).project)).toEqual(['A-1', 'A-9', 'A-2', 'A-3', 'A-4']);
    const first = read([row('A-0', 1), ...body.slice(1)]);
    expect(revise(base, first).project.fixtures).toHaveLength(4);
  });

  it('renumbered: the same place on the run, most else the same', () => {
    const next = read([row('A-1', 1), row('B-2', 2), row('A-3', 3), row('A-4', 4)]);
    const { project, told } = revise(base, next);
    expect(told).toEqual(['renumbered A-2 tag']);
    expect(byTag(project, 'B-2')?.id).toBe(byTag(base, 'A-2')?.id);
  });

  it('renumbered by the way tags are written', () => {
    const next = read([row('A-01', 1), row('A-02', 2), row('A-03', 3), row('A-04', 4)]);
    expect(revise(base, next).told).toEqual(
      ['A-1', 'A-2', 'A-3', 'A-4'].map((tag) => `renumbered ${tag} tag`),
    );
  });

  it('another fixture in the place of one that went is no renumbered one', () => {
    const other: Row = ['C-7', 'Z', 'R1', 2, 9, 95, null, null, null];
    const next = read([row('A-1', 1), other, row('A-3', 3), row('A-4', 4)]);
    expect(revise(base, next).told).toEqual(expect.arrayContaining(['removed A-2', 'added C-7']));
  });

  it('with one tag are told apart by their places', () => {
    const twice = read([row('A-1', 1), row('A-1', 2), row('A-3', 3)]);
    const next = read([row('A-1', 1), row('A-1', 2, 7), row('A-3', 3)]);
    const { project } = revise(twice, next, twice);
    expect(project.fixtures.map(({ spanM }) => spanM)).toEqual([2, 7, 2]);
    expect(project.fixtures.map(({ id }) => id)).toEqual(twice.fixtures.map(({ id }) => id));
  });

  it('of a quantity row keep their ids when it grows', () => {
    const head = ['Tag', 'Type', 'Qty', 'Run'];
    const three = readRowsOf([head, ['B', 'T', 3, 'R']]);
    const five = readRowsOf([head, ['B', 'T', 5, 'R']]);
    const { project } = revise(three, five, three);
    expect(project.fixtures).toHaveLength(5);
    expect(project.fixtures.slice(0, 3).map(({ id }) => id)).toEqual(
      three.fixtures.map((f) => f.id),
    );
  });

  it('of a quantity row stay with their row when one above shrinks and their tags move up', () => {
    const head = ['Tag', 'Type', 'Qty', 'Run'];
    const before = readRowsOf([head, [null, 'F3', 3, 'R1'], [null, 'F3', 2, 'R2']]);
    const after = readRowsOf([head, [null, 'F3', 2, 'R1'], [null, 'F3', 2, 'R2']]);
    expect(tags(before)).toEqual(['F3-1', 'F3-2', 'F3-3', 'F3-4', 'F3-5']);
    expect(tags(after)).toEqual(['F3-1', 'F3-2', 'F3-3', 'F3-4']);
    const { project, told } = revise(edit(before, 'F3-4', 'remarks', 'mine'), after, before);
    expect(project.fixtures.map((f) => [f.tag, f.run, f.remarks])).toEqual([
      ['F3-1', 'R1', null],
      ['F3-2', 'R1', null],
      ['F3-3', 'R2', 'mine'],
      ['F3-4', 'R2', null],
    ]);
    expect(told).toEqual(['removed F3-3', 'renumbered F3-4 tag', 'renumbered F3-5 tag']);
  });

  it('of a range of tags are those tags, wherever the range begins', () => {
    const head = ['Tag', 'Type', 'Run'];
    const before = readRowsOf([head, ['A-1 to A-4', 'T', 'R']]);
    const after = readRowsOf([head, ['A-2 to A-5', 'T', 'R']]);
    const { told } = revise(before, after, before);
    expect(told).toContain('removed A-1');
    expect(told).toContain('added A-5');
    expect(told.some((one) => one.startsWith('renumbered'))).toBe(false);
  });

  it('list what is unread in the order of the columns, as a reading does', () => {
    const head = ['Tag', 'Span m', 'Load W', 'Volts'];
    const before = readRowsOf([head, ['A', 2, 'tbc', 'tbc']]);
    const after = readRowsOf([head, ['A', 'tbc', 'tbc', 'tbc']]);
    expect(revise(before, after, before).project.fixtures).toEqual(after.fixtures);
  });
});

describe('the engineer’s work', () => {
  it('stays where the file did not change', () => {
    const current = edit(edit(base, 'A-2', 'span', 9), 'A-3', 'remarks', 'mine');
    const { project, told } = revise(current, read([...body.slice(0, 3), row('A-4', 4, 5)]));
    expect(told).toEqual(['changed A-4 spanM']);
    expect(byTag(project, 'A-2')?.spanM).toBe(9);
    expect(byTag(project, 'A-3')?.remarks).toBe('mine');
  });

  it('stays where the file changed the same: listed as a conflict', () => {
    const current = edit(base, 'A-2', 'span', 9);
    const next = read([row('A-1', 1), row('A-2', 2, 3), row('A-3', 3), row('A-4', 4)]);
    const { project, differences } = revise(current, next);
    expect(byTag(project, 'A-2')?.spanM).toBe(9);
    expect(differences).toMatchObject([
      { kind: 'conflict', name: 'A-2', field: 'spanM', column: 'span', was: 9, now: 3 },
    ]);
  });

  it('is no conflict where both came to the same', () => {
    const next = read([row('A-1', 1), row('A-2', 2, 3), row('A-3', 3), row('A-4', 4)]);
    expect(revise(edit(base, 'A-2', 'span', 3), next).told).toEqual([]);
  });

  it('locks hold: the value stays and is listed', () => {
    const current = locked(base, 'A-2', 'span');
    const next = read([row('A-1', 1), row('A-2', 2, 3, 55), row('A-3', 3), row('A-4', 4)]);
    const { project, told } = revise(current, next);
    expect(byTag(project, 'A-2')).toMatchObject({ spanM: 2, loadW: 55, locks: ['span'] });
    expect(told.sort()).toEqual(['changed A-2 loadW', 'locked A-2 spanM']);
  });

  it('a locked fixture does not go', () => {
    const { project, told } = revise(locked(base, 'A-3', 'address'), read(body.slice(0, 2)));
    expect(tags(project)).toEqual(['A-1', 'A-2', 'A-3']);
    expect(byTag(project, 'A-3')?.origin).toBeNull();
    expect(told).toEqual(['locked A-3', 'removed A-4']);
  });

  it('a fixture put in stays; one taken out stays out', () => {
    const inserted = apply(base, insertAfter(base, byTag(base, 'A-2')?.id ?? '')?.changes ?? []);
    const gone = removeFixtures(inserted, [byTag(base, 'A-4')?.id ?? '']);
    const current = apply(inserted, gone.changes);
    const next = read([row('A-1', 1), row('A-2', 2), row('A-3', 3), row('A-4', 4, 7)]);
    const { project, told } = revise(current, next);
    expect(project.fixtures).toHaveLength(4);
    expect(tags(project)).not.toContain('A-4');
    expect(told).toContain('conflict A-4');
  });

  it('a fixture the engineer has put in and the file has now is one', () => {
    const grown = apply(base, insertAfter(base, byTag(base, 'A-4')?.id ?? '')?.changes ?? []);
    const own = grown.fixtures.at(-1)?.id ?? '';
    const set = { kind: 'set', table: 'fixtures', key: own } as const;
    const current = apply(grown, [
      { ...set, field: 'tag', value: 'A-5' },
      { ...set, field: 'spanM', value: 8 },
      { ...set, field: 'loadW', value: null },
    ]);
    const { project, told } = revise(current, read([...body, row('A-5', 5, 3, 60)]));
    expect(project.fixtures.filter(({ tag }) => tag === 'A-5')).toMatchObject([
      { id: own, spanM: 8, loadW: 60 },
    ]);
    expect(told).toContain('conflict A-5 spanM');
  });
});

describe('runs, circuits, types', () => {
  it('take what the file changed', () => {
    const next = read(body.map((r) => [...r.slice(0, 7), '5', 20]));
    const { project, told } = revise(base, next);
    expect(project.circuits).toMatchObject([{ panel: 'LP', name: '5', breakerA: 20 }]);
    expect(project.circuits[0]?.id).toBe(base.circuits[0]?.id);
    expect(told).toEqual(['changed LP 1 name', 'changed LP 1 breakerA']);
  });

  const two = read([...body, row('B-1', 1, 2, 40, 'R2'), row('B-2', 2, 2, 40, 'R2')]);

  it('one of two runs on a circuit that moves has another circuit', () => {
    const shared = (circuit: string) =>
      read([row('A-1', 1), [...row('B-1', 1, 2, 40, 'R2').slice(0, 7), circuit, 16]]);
    const { project, told } = revise(shared('1'), shared('7'), shared('1'));
    expect(project.circuits.map(({ name }) => name)).toEqual(['1', '7']);
    expect(told).toEqual(['changed R2 circuitId']);
  });

  it('a run that is gone goes with its circuit, one that is new comes', () => {
    const { project } = revise(two, read(body), two);
    expect(project.runs.map(({ name }) => name)).toEqual(['R1']);
    expect(project.circuits).toHaveLength(1);
    const back = revise(base, two);
    expect(back.project.runs.map(({ name }) => name)).toEqual(['R1', 'R2']);
    expect(back.project.circuits).toHaveLength(2);
  });

  it('a breaker the engineer has changed stays', () => {
    const current = edit(base, 'A-1', 'breaker', 10);
    const { project, told } = revise(current, read(body.map((r) => [...r.slice(0, 8), 20])));
    expect(project.circuits[0]?.breakerA).toBe(10);
    expect(told).toEqual(['conflict LP 1 breakerA']);
  });

  it('a type of the legend: watts from the file, the engineer’s power factor', () => {
    const book = (watts: number) =>
      readBook(
        workbookOf(
          sheetOf([header, ...body]),
          sheetOf(
            [
              ['Type', 'W max'],
              ['T', watts],
            ],
            { name: 'Legend' },
          ),
        ),
      ).project;
    const before = book(40);
    const current = apply(before, [
      { kind: 'set', table: 'types', key: 'T', field: 'powerFactor', value: 0.9 },
    ]);
    const { project, told } = revise(current, book(55), before);
    expect(project.types).toMatchObject([{ name: 'T', loadW: 55, powerFactor: 0.9 }]);
    expect(told).toEqual(['changed T loadW']);
  });
});

describe('other answers for the same file', () => {
  it('are a revision of the file by itself', () => {
    const rows: readonly Row[] = [
      header,
      ['A-1', 'T', 'R1', 1, 'tbc', 40],
      ['A-2', 'T', 'R1', 2, 3, 40],
    ];
    const before = readRowsOf(rows);
    const after = readRowsOf(rows, {}, { answers: answersFor(['Schedule!E2', 'tbc', '2.5 m']) });
    const current = edit(before, 'A-2', 'span', 9);
    const { project } = revise(current, after, before);
    expect(project.fixtures.map((f) => [f.spanM, f.unread])).toEqual([
      [2.5, []],
      [9, []],
    ]);
    expect(project.source?.answers.cells).toHaveLength(1);
  });

  it('go with their rows to a revised file', () => {
    const answers = answersFor(['Schedule!E3', 'tbc', '2.5 m']);
    const first = [header, row('A-1', 1), ['A-2', 'T', 'R1', 2, 'tbc', 40]];
    const project = readRowsOf(first, {}, { answers });
    const next = workbookOf(
      sheetOf([
        ['Rev D'],
        ['Crate', ...header],
        [1, ...row('A-0', 1)],
        [2, 'A-2', 'T', 'R1', 2, 'tbc', 40],
      ]),
    );
    expect(movedAnswers(project, [next])?.cells).toEqual([
      { cell: 'Schedule!F4', raw: 'tbc', text: '2.5 m' },
    ]);
  });
});

describe('answers for a revised file', () => {
  const first = [header, row('A-1', 1), ['A-2', 'T', 'R1', 2, 'tbc', 40]];
  const project = readRowsOf(first, {}, { answers: answersFor(['Schedule!E3', 'tbc', '2.5 m']) });
  const moved = (rows: readonly Row[]) =>
    movedAnswers(project, [workbookOf(sheetOf(rows))])?.cells.map(({ cell }) => cell);

  it('keep their names where nothing moved, or the tag is gone', () => {
    expect(moved(first)).toEqual(['Schedule!E3']);
    expect(moved([header, row('A-1', 1)])).toEqual(['Schedule!E3']);
  });

  it('go to the row of their tag even where another row says the same', () => {
    const other: Row = ['A-0', 'T', 'R1', 1, 'tbc', 40];
    const rows = [header, row('A-1', 1), other, ['A-2', 'T', 'R1', 2, '7 m', 40]];
    expect(moved(rows)).toEqual(['Schedule!E4']);
    // There it says something else now: told, and not used for anybody else.
    const answers = movedAnswers(project, [workbookOf(sheetOf(rows))]);
    const next = readRowsOf(rows, {}, answers === null ? {} : { answers });
    expect(next.fixtures.map(({ spanM }) => spanM)).toEqual([2, null, 7]);
    expect(next.source?.readings.some(({ note }) => note.includes('was answered'))).toBe(true);
  });

  it('of two rows with the tag go to neither', () => {
    const twin: Row = ['A-2', 'T', 'R1', 2, 'tbc', 40];
    expect(moved([header, row('A-1', 1), row('A-5', 1), twin, twin])).toEqual(['Schedule!E3']);
  });
});

describe('any edits and any revision (property)', () => {
  const cell = fc.record({
    place: fc.nat(3),
    column: fc.constantFrom('span', 'load', 'remarks'),
    value: fc.integer({ min: 1, max: 9 }),
  });
  const revisedRow = fc.record({
    tag: fc.constantFrom('A-1', 'A-2', 'A-3', 'A-4', 'B-1', 'B-2'),
    span: fc.constantFrom(2, 3),
  });

  it('keep every edit the file has left its fixture for, and can be undone', () => {
    fc.assert(
      fc.property(
        fc.array(cell, { maxLength: 4 }),
        fc.uniqueArray(revisedRow, { selector: ({ tag }) => tag, minLength: 1 }),
        (edits, rows) => {
          let current = base;
          for (const { place, column, value } of edits) {
            const tag = `A-${place + 1}`;
            const typed = column === 'remarks' ? `note ${value}` : value;
            current = edit(current, tag, column as ColumnId, typed);
          }
          const next = read(rows.map(({ tag, span }, at) => row(tag, at + 1, span)));
          const { changes } = reviseProject(current, base, next);
          const applied = applyCommand(current, { label: 'x', changes });
          if (!applied.ok) throw new Error(applied.reason);
          const { project, inverse } = applied;
          expect(checkReferences(project)).toBeNull();
          expect(tags(project).sort()).toEqual(tags(next).sort());
          for (const fixture of project.fixtures) {
            const was = base.fixtures.find(({ id }) => id === fixture.id);
            const had = current.fixtures.find(({ id }) => id === fixture.id);
            if (was === undefined || had === undefined) continue;
            for (const field of ['spanM', 'loadW', 'remarks'] as const)
              if (had[field] !== was[field]) expect(fixture[field]).toBe(had[field]);
          }
          const back = applyCommand(project, inverse);
          expect(back.ok && JSON.stringify(back.project)).toBe(JSON.stringify(current));
          expect(reviseProject(project, next, next).differences).toEqual([]);
        },
      ),
      { seed: 20310308, numRuns: 200 },
    );
  });
});
