import { describe, expect, test } from 'vitest';
import { type ColumnId, columns } from '../../src-shared/columns/column-table.ts';
import { applyCommand } from '../../src-shared/document/apply.ts';
import type { Command } from '../../src-shared/document/change.ts';
import {
  asOneStep,
  type CellValue,
  editCell,
  freeId,
  whyUnfit,
} from '../../src-shared/document/edit-cell.ts';
import { insertAfter, removeFixtures, setLock } from '../../src-shared/document/edit-rows.ts';
import {
  isDirty,
  markSaved,
  perform,
  redo,
  startHistory,
  undo,
} from '../../src-shared/document/history.ts';
import type { Project } from '../../src-shared/document/project.ts';
import { cleanProject, findingsIn, raised, withFixture, withRun } from '../limits/build-project.ts';

function apply(project: Project, command: Command | null): Project {
  if (command === null) throw new Error('no command');
  const applied = applyCommand(project, command);
  if (!applied.ok) throw new Error(applied.reason);
  return applied.project;
}

function typed(project: Project, id: string, column: ColumnId, value: CellValue): Project {
  const edit = editCell(project, id, column, value);
  if (!edit.ok) throw new Error(edit.reason);
  return apply(project, edit.command);
}

const refused = (project: Project, id: string, column: ColumnId, value: CellValue) => {
  const edit = editCell(project, id, column, value);
  return edit.ok ? null : edit.reason;
};

const places = (project: Project, run: string) =>
  project.fixtures.filter((f) => f.run === run).map((f) => `${f.tag ?? '?'} ${f.place ?? '?'}`);

const clean = cleanProject();

describe('what fits a cell', () => {
  test.each([
    ['load', -1, 'Watts cannot be negative.'],
    ['span', -0.1, 'Span cannot be negative.'],
    ['load', 'many', 'Watts takes a number.'],
    ['load', Number.NaN, 'Watts takes a number.'],
    ['span', Number.POSITIVE_INFINITY, 'Span takes a number.'],
    ['tag', 5, 'Tag takes words.'],
    ['place', 0, 'Place counts from 1.'],
    ['place', 1.5, 'Place takes a whole number.'],
    ['universe', 0, 'Universe counts from 1.'],
    ['address', 513, 'Start address is 1 to 512.'],
    ['address', 0, 'Start address is 1 to 512.'],
    ['footprint', 0, 'Footprint is 1 to 512 slots.'],
    ['powerFactor', 0, 'Power factor is over 0 and at most 1.'],
    ['powerFactor', 1.01, 'Power factor is over 0 and at most 1.'],
    ['supply', 0, 'Supply cannot be 0 V.'],
  ] as const)('%s %s: %s', (column, value, reason) => {
    expect(whyUnfit(column, value)).toBe(reason);
    expect(refused(clean, 'R1f1', column, value)).toBe(reason);
  });

  test('no value fits every cell: it empties it', () => {
    for (const { id, edit } of columns) {
      expect(whyUnfit(id, null)).toBeNull();
      if (edit === 'typed' && id !== 'quantity')
        expect(refused(clean, 'R1f2', id, null)).toBeNull();
    }
  });

  test('blank text is no value, outer blanks go', () => {
    expect(typed(clean, 'R1f1', 'tag', '  ').fixtures[0]?.tag).toBeNull();
    expect(typed(clean, 'R1f1', 'tag', ' A-1 ').fixtures[0]?.tag).toBe('A-1');
    expect(typed(clean, 'R1f4', 'run', '').fixtures[3]).toMatchObject({ run: null, place: null });
    expect(typed(clean, 'R1f4', 'run', ' R2 ').runs).toHaveLength(2);
  });

  test('a solved column says so, on a run or on none; quantity belongs to the source', () => {
    const loose = withFixture(clean, 'R1f4', { run: null });
    for (const { id, edit } of columns) {
      if (edit !== 'solved') continue;
      for (const p of [clean, loose])
        expect(refused(p, 'R1f4', id, null)).toMatch(/is solved, not typed/);
    }
    expect(refused(clean, 'R1f1', 'quantity', 2)).toContain('insert or remove rows');
    expect(refused(loose, 'R1f4', 'breaker', 20)).toContain('give this fixture a run first');
    expect(refused(clean, 'nobody', 'tag', 'x')).toBe('That row is gone.');
  });

  test('the value that stands there already is no step', () => {
    for (const [column, value] of [
      ['load', null],
      ['supply', 240],
      ['breaker', 20],
      ['panel', 'P1'],
      ['circuit', '1,3'],
      ['run', 'R1'],
      ['homeRun', 20],
    ] as const) {
      const edit = editCell(clean, 'R1f1', column, value);
      expect(edit.ok && edit.command.changes).toEqual([]);
    }
  });
});

describe('values of a run and of a circuit', () => {
  test('are set once, for all rows', () => {
    const now = typed(clean, 'R1f3', 'supply', 208);
    expect(now.runs[0]?.supplyV).toBe(208);
    expect(now.fixtures).toBe(clean.fixtures);
    expect(typed(clean, 'R1f3', 'breaker', 15).circuits[0]?.breakerA).toBe(15);
  });

  test('rows that said something else stop doing so, and only of that value', () => {
    const differing = withFixture(clean, 'R1f3', { differing: { supplyV: 208, breakerA: 15 } });
    expect(typed(differing, 'R1f1', 'supply', 230).fixtures[2]?.differing).toEqual({
      breakerA: 15,
    });
    const both = withFixture(withRun(differing, 'R2', { circuitId: 'c1' }), 'R2f1', {
      differing: { breakerA: 16 },
    });
    const now = typed(both, 'R1f1', 'breaker', 15);
    expect(now.fixtures[2]?.differing).toEqual({ supplyV: 208 });
    expect(now.fixtures[4]?.differing).toBeNull();
    // Typing the value the run has already settles the difference as well.
    expect(typed(differing, 'R1f1', 'breaker', 20).fixtures[2]?.differing).toEqual({
      supplyV: 208,
    });
  });

  test('the span of the first fixture is the lead-in where the run states one', () => {
    const stated = withRun(clean, 'R1', { leadInM: 7 });
    const now = typed(stated, 'R1f1', 'span', 9);
    expect([now.runs[0]?.leadInM, now.fixtures[0]?.spanM]).toEqual([9, 5]);
    expect(typed(stated, 'R1f2', 'span', 9).fixtures[1]?.spanM).toBe(9);
    // The one nearest the head box, whatever its place says.
    const gap = withFixture(withRun(clean, 'R1', { leadInM: 7 }), 'R1f1', {
      run: null,
      place: null,
    });
    expect(typed(gap, 'R1f2', 'span', 9).runs[0]?.leadInM).toBe(9);
  });

  test('a circuit’s name takes the run to that circuit, made at need; the others stay', () => {
    const joined = typed(clean, 'R2f1', 'circuit', '1,3');
    expect(joined.runs.map((r) => r.circuitId)).toEqual(['c1', 'c1']);
    const apart = typed(joined, 'R2f1', 'circuit', '9');
    expect(apart.runs.map((r) => r.circuitId)).toEqual(['c1', 'c3']);
    expect(apart.circuits.at(-1)).toMatchObject({ panel: 'P1', name: '9', breakerA: 20 });
    // Alone on its circuit the name changes where it stands.
    expect(typed(clean, 'R1f1', 'circuit', '9').circuits).toHaveLength(2);
    expect(typed(clean, 'R1f1', 'circuit', '9').circuits[0]?.name).toBe('9');
  });
});

describe('locks', () => {
  const locked = (id: string, column: string) => apply(clean, setLock(clean, [id], column, true));

  test('a locked cell is refused, its neighbours are not', () => {
    expect(refused(locked('R1f1', 'address'), 'R1f1', 'address', 9)).toBe(
      'Start address of R1-01 is locked.',
    );
    expect(refused(locked('R1f1', 'address'), 'R1f2', 'address', 9)).toBeNull();
    expect(refused(locked('R1f1', 'address'), 'R1f1', 'universe', 9)).toBeNull();
  });

  test('a value of the run locked on one row is locked for all its rows', () => {
    expect(refused(locked('R1f1', 'supply'), 'R1f3', 'supply', 208)).toBe(
      'Supply of R1-01 is locked.',
    );
    expect(refused(locked('R1f1', 'supply'), 'R2f1', 'supply', 208)).toBeNull();
    const run = withRun(clean, 'R1', { locks: ['homeRun'] });
    expect(refused(run, 'R1f3', 'homeRun', 3)).toBe('Home run of run R1 is locked.');
  });

  test('a breaker locked on one run is locked for all runs of the circuit; the circuit of each is its own', () => {
    const p = withRun(withFixture(clean, 'R1f1', { locks: ['breaker', 'circuit'] }), 'R2', {
      circuitId: 'c1',
    });
    expect(refused(p, 'R2f2', 'breaker', 15)).toBe('Breaker of R1-01 is locked.');
    expect(refused(p, 'R2f2', 'circuit', '9')).toBeNull();
  });

  test('a locked place keeps a fixture on its run, and its number', () => {
    const p = locked('R1f3', 'place');
    expect(refused(p, 'R1f3', 'run', 'R2')).toBe('Place of R1-03 is locked.');
    expect(places(apply(p, removeFixtures(p, ['R1f2'])), 'R1')).toEqual([
      'R1-01 1',
      'R1-03 3',
      'R1-04 4',
    ]);
    expect(places(apply(p, insertAfter(p, 'R1f1')), 'R1')).toContain('R1-03 3');
  });

  test('a locked row is not removed', () => {
    expect(removeFixtures(locked('R1f2', 'address'), ['R1f2']).changes).toEqual([]);
  });

  test('locking twice changes nothing', () => {
    const p = locked('R1f2', 'address');
    expect(setLock(p, ['R1f2'], 'address', true).changes).toEqual([]);
    expect(apply(p, setLock(p, ['R1f2'], 'address', false)).fixtures[1]?.locks).toEqual([]);
  });
});

describe('rows', () => {
  test('insert behind: the next place, those behind move up, same type and loads, no address', () => {
    const own = withFixture(clean, 'R1f2', {
      loadW: 60,
      footprint: 8,
      unitLoad: 0.25,
      leakageMa: 0.1,
    });
    const now = apply(own, insertAfter(own, 'R1f2'));
    expect(places(now, 'R1')).toEqual(['R1-01 1', 'R1-02 2', '? 3', 'R1-03 4', 'R1-04 5']);
    expect(now.fixtures[2]).toMatchObject({
      id: 'f1',
      type: 'U1',
      mode: '4ch',
      loadW: 60,
      footprint: 8,
      unitLoad: 0.25,
      leakageMa: 0.1,
      spanM: 3,
      address: null,
      universe: null,
      tag: null,
    });
    expect(findingsIn(now).filter((f) => f.limit === 'broken-chain')).toEqual([]);
    expect(insertAfter(clean, 'nobody')).toBeNull();
  });

  test('remove closes the gap, of one and of several on more than one run', () => {
    const now = apply(clean, removeFixtures(clean, ['R1f2', 'R1f3', 'R2f1']));
    expect(places(now, 'R1')).toEqual(['R1-01 1', 'R1-04 2']);
    expect(places(now, 'R2')).toEqual(['R2-02 1', 'R2-03 2', 'R2-04 3']);
  });

  test('remove one of two on the same place: there is no gap to close', () => {
    const twice = withFixture(clean, 'R1f3', { place: 2 });
    expect(places(apply(twice, removeFixtures(twice, ['R1f2'])), 'R1')).toEqual([
      'R1-01 1',
      'R1-03 2',
      'R1-04 4',
    ]);
  });

  test('a move to another run closes the gap it leaves, and goes to the end', () => {
    const now = typed(clean, 'R1f2', 'run', 'R2');
    expect(places(now, 'R1')).toEqual(['R1-01 1', 'R1-03 2', 'R1-04 3']);
    expect(places(now, 'R2')).toContain('R1-02 5');
    const chain = raised(now).find((f) => f.limit === 'broken-chain');
    expect(chain?.message ?? '').not.toContain('is missing before');
  });

  test('a move to a run that is not there makes it, on a circuit of its own, in one step', () => {
    const now = typed(clean, 'R1f2', 'run', 'R9');
    expect(now.runs.at(-1)).toMatchObject({ name: 'R9', circuitId: 'c3', supplyV: null });
    expect(now.circuits.at(-1)).toMatchObject({ id: 'c3', name: null, breakerA: null });
    expect(now.fixtures[1]).toMatchObject({ run: 'R9', place: 1 });
  });

  test('free ids', () => {
    expect(freeId('c', [])).toBe('c1');
    expect(freeId('c', ['c1', 'c9', 'x20', 'cable'])).toBe('c10');
  });
});

describe('apply', () => {
  const set = (key: string): Command => ({
    label: 'x',
    changes: [{ kind: 'set', table: 'fixtures', key, field: 'tag', value: 'new' }],
  });

  test('says what is not there and what is there twice', () => {
    expect(applyCommand(clean, set('none'))).toEqual({
      ok: false,
      reason: 'There is no "none" in fixtures.',
    });
    const [first] = clean.fixtures;
    if (first === undefined) throw new Error('empty');
    const twice: Command = {
      label: 'x',
      changes: [{ kind: 'insert', table: 'fixtures', index: 0, records: [first] }],
    };
    expect(applyCommand(clean, twice)).toEqual({
      ok: false,
      reason: '"R1f1" stands in fixtures already.',
    });
    const renamed: Command = {
      label: 'x',
      changes: [{ kind: 'set', table: 'runs', key: 'R1', field: 'name', value: 'R2' }],
    };
    expect(applyCommand(clean, renamed)).toEqual({
      ok: false,
      reason: '"R2" stands in runs already.',
    });
    const far: Command = {
      label: 'x',
      changes: [{ kind: 'insert', table: 'fixtures', index: 99, records: [{ ...first, id: 'z' }] }],
    };
    expect(applyCommand(clean, far)).toMatchObject({ ok: false });
  });

  test('rows removed from anywhere come back where they were', () => {
    const keys = ['R2f4', 'R1f1', 'R1f3'];
    const applied = applyCommand(clean, {
      label: 'x',
      changes: [{ kind: 'remove', table: 'fixtures', keys }],
    });
    if (!applied.ok) throw new Error(applied.reason);
    expect(JSON.stringify(apply(applied.project, applied.inverse))).toBe(JSON.stringify(clean));
  });

  test('a run or circuit that is still used stays; moved or removed in the same command it goes', () => {
    const command = (...changes: Command['changes']): Command => ({ label: 'x', changes });
    const noRun = { kind: 'remove', table: 'runs', keys: ['R1'] } as const;
    const noCircuit = { kind: 'remove', table: 'circuits', keys: ['c1'] } as const;
    const on = clean.fixtures.filter((f) => f.run === 'R1').map((f) => f.id);
    const noFixtures = { kind: 'remove', table: 'fixtures', keys: on } as const;
    expect(applyCommand(clean, command(noRun))).toEqual({
      ok: false,
      reason: '4 fixtures are still on run R1. Move or remove them first.',
    });
    expect(applyCommand(clean, command(noCircuit))).toMatchObject({
      ok: false,
      reason: expect.stringMatching(/^Run R1 is still on /),
    });
    // Removed with what is on them, in either order.
    for (const both of [command(noRun, noFixtures), command(noFixtures, noRun)]) {
      expect(apply(clean, both).runs.map((r) => r.name)).toEqual(['R2']);
    }
    const moved = command(noCircuit, {
      kind: 'set',
      table: 'runs',
      key: 'R1',
      field: 'circuitId',
      value: 'c2',
    });
    const applied = applyCommand(clean, moved);
    if (!applied.ok) throw new Error(applied.reason);
    expect(applied.project.circuits.map((c) => c.id)).toEqual(['c2']);
    expect(JSON.stringify(apply(applied.project, applied.inverse))).toBe(JSON.stringify(clean));
    // A run renamed away from its fixtures is a run that went.
    const renamed = { kind: 'set', table: 'runs', key: 'R1', field: 'name', value: 'R9' } as const;
    expect(applyCommand(clean, command(renamed))).toMatchObject({ ok: false });
  });

  test('a record renamed and changed in one command is found under its new name, and undone', () => {
    const command: Command = {
      label: 'x',
      changes: [
        { kind: 'set', table: 'lines', key: 'K1', field: 'name', value: 'K9' },
        { kind: 'set', table: 'lines', key: 'K9', field: 'ratingA', value: 3 },
      ],
    };
    const applied = applyCommand(clean, command);
    if (!applied.ok) throw new Error(applied.reason);
    expect(applied.project.lines[0]).toMatchObject({ name: 'K9', ratingA: 3 });
    expect(JSON.stringify(apply(applied.project, applied.inverse))).toBe(JSON.stringify(clean));
  });

  test('thousands of changes in one command are one pass', () => {
    const [model] = clean.fixtures;
    if (model === undefined) throw new Error('empty');
    const many = {
      ...clean,
      fixtures: Array.from({ length: 10_000 }, (_, i) => ({ ...model, id: `f${i}` })),
    };
    const changes = many.fixtures.map(
      ({ id }) => ({ kind: 'set', table: 'fixtures', key: id, field: 'loadW', value: 9 }) as const,
    );
    const start = performance.now();
    expect(apply(many, { label: 'fill down', changes }).fixtures.every((f) => f.loadW === 9)).toBe(
      true,
    );
    expect(performance.now() - start).toBeLessThan(2_000);
  });
});

describe('history', () => {
  const step = (value: number): Command => ({
    label: `to ${value}`,
    changes: [{ kind: 'set', table: 'fixtures', key: 'R1f1', field: 'loadW', value }],
  });
  function done(history: ReturnType<typeof startHistory>, command: Command) {
    const next = perform(history, command);
    if (!next.ok) throw new Error(next.reason);
    return next.history;
  }
  function back(history: ReturnType<typeof startHistory>, way = undo) {
    const next = way(history);
    if (next?.ok !== true) throw new Error('no step');
    return next.history;
  }

  test('several commands as one step go back as one', () => {
    const start = startHistory(clean);
    const first = insertAfter(clean, 'R1f1');
    if (first === null) throw new Error('no command');
    const middle = apply(clean, first);
    const edit = editCell(middle, 'f1', 'tag', 'between');
    if (!edit.ok) throw new Error(edit.reason);
    const now = done(start, asOneStep('both', [first, edit.command]));
    expect(now.past).toHaveLength(1);
    expect(now.project.fixtures[1]?.tag).toBe('between');
    expect(JSON.stringify(back(now).project)).toBe(JSON.stringify(clean));
  });

  test('nothing to undo, nothing to redo, and no step without changes', () => {
    const start = startHistory(clean);
    expect([undo(start), redo(start)]).toEqual([null, null]);
    expect(done(start, { label: 'nothing', changes: [] })).toBe(start);
  });

  test('what is refused is no step', () => {
    const start = startHistory(clean);
    expect(
      perform(start, { label: 'x', changes: [{ kind: 'remove', table: 'runs', keys: ['no'] }] }),
    ).toMatchObject({ ok: false });
  });

  test('a new step forgets what was taken back', () => {
    const two = done(done(startHistory(clean), step(1)), step(2));
    const other = done(back(two), step(3));
    expect(other.future).toEqual([]);
    expect(back(back(other), redo).project.fixtures[0]?.loadW).toBe(3);
  });

  test('dirty: away from the saved state, clean on coming back to it, never after it is out of reach', () => {
    const one = done(startHistory(clean), step(1));
    expect(isDirty(startHistory(clean))).toBe(false);
    expect(isDirty(one)).toBe(true);
    const saved = markSaved(one);
    expect(isDirty(saved)).toBe(false);
    expect(isDirty(back(saved))).toBe(true);
    expect(isDirty(back(back(saved), redo))).toBe(false);
    const elsewhere = done(back(saved), step(5));
    expect(isDirty(elsewhere)).toBe(true);
    expect(isDirty(back(elsewhere))).toBe(true);
    expect(isDirty(done(back(elsewhere), step(1)))).toBe(true);
  });
});
