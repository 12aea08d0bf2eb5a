import { describe, expect, test } from 'vitest';
import { applyCommand } from '../../src-shared/document/apply.ts';
import { blankFixture } from '../../src-shared/document/blank.ts';
import type { Change } from '../../src-shared/document/change.ts';
import { editCell } from '../../src-shared/document/edit-cell.ts';
import type { Project } from '../../src-shared/document/project.ts';
import { columnLetters } from '../../src-shared/document/source-workbook.ts';
import { countFindings, severityRank } from '../../src-shared/limits/finding.ts';
import { limitIds } from '../../src-shared/limits/limit.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';
import { findingCells } from '../../src-shared/session/finding-cells.ts';
import { touchedBy } from '../../src-shared/session/touched.ts';
import { singleSource } from '../exchange/single-source.ts';
import {
  cleanProject,
  raised,
  tagsOf,
  withCircuit,
  withFixture,
  withLine,
  withRun,
  withType,
} from '../limits/build-project.ts';

const anew = (project: Project) => new EngineSession(project).findings;

/** A session that takes these changes, against one made anew. */
function updated(project: Project, ...changes: Change[]): EngineSession {
  const applied = applyCommand(project, { label: 'test', changes });
  if (!applied.ok) throw new Error(applied.reason);
  const session = new EngineSession(project);
  session.update(applied.project, changes);
  expect(session.findings).toEqual(anew(applied.project));
  expect([...session.runs.keys()]).toEqual([...new EngineSession(applied.project).runs.keys()]);
  return session;
}

describe('one edited cell', () => {
  test('solves its own run and leaves the results of the others as they are', () => {
    const project = cleanProject();
    const edit = editCell(project, 'R1f2', 'load', 60);
    if (!edit.ok) throw new Error(edit.reason);
    const session = new EngineSession(project);
    const [r1, r2] = [session.runs.get('R1'), session.runs.get('R2')];
    const applied = applyCommand(project, edit.command);
    if (!applied.ok) throw new Error(applied.reason);
    session.update(applied.project, edit.command.changes);
    expect(session.runs.get('R1')).not.toBe(r1);
    expect(session.runs.get('R2')).toBe(r2);
  });

  test('recomputes what hangs on it: the circuit it shares', () => {
    const shared = withRun(cleanProject(), 'R2', { circuitId: 'c1' });
    // 4·48 + 3·48 + 3600 W at 240 V are over 16.4 A; on 20 A 16 A are allowed.
    const change: Change = {
      kind: 'set',
      table: 'fixtures',
      key: 'R2f4',
      field: 'loadW',
      value: 3600,
    };
    const session = updated(withLine(shared, 'K2', { ratingA: 30 }), change);
    const found = session.findings.find((f) => f.limit === 'circuit-load');
    expect(found).toMatchObject({ severity: 'breach', run: null });
    expect(found?.fixtureIds).toHaveLength(8);
  });

  test('recomputes what hangs on it: the universe it moves into and the one it leaves', () => {
    const overlap = withFixture(cleanProject(), 'R2f1', { address: 1 });
    const session = updated(overlap, {
      kind: 'set',
      table: 'fixtures',
      key: 'R2f1',
      field: 'universe',
      value: 9,
    });
    expect(session.findings.map((f) => f.limit)).toEqual(['two-universes']);
    const into = updated(withFixture(cleanProject(), 'R2f1', { universe: 9, address: 1 }), {
      kind: 'set',
      table: 'fixtures',
      key: 'R2f1',
      field: 'universe',
      value: 1,
    });
    expect(into.findings.map((f) => f.limit)).toEqual(['address-overlap']);
  });

  test('a run that goes leaves its fixtures on none, and they say so; back it is solved again', () => {
    const project = cleanProject();
    const [run] = project.runs;
    if (run === undefined) throw new Error('no run');
    // No command leaves fixtures on a run that is not there; the engine bears it all the same.
    const without = { ...project, runs: project.runs.slice(1) };
    const gone = new EngineSession(project);
    gone.update(without, [{ kind: 'remove', table: 'runs', keys: ['R1'] }]);
    expect(gone.findings).toEqual(anew(without));
    expect(gone.findings.map((f) => [f.limit, f.fixtureIds.length])).toEqual([
      ['missing-value', 4],
    ]);
    const back = updated(without, { kind: 'insert', table: 'runs', index: 0, records: [run] });
    expect(back.findings).toEqual([]);
    expect([...back.runs.keys()]).toEqual(['R1', 'R2']);
  });
});

describe('touched', () => {
  test('words of the job touch nothing, settings everything', () => {
    expect(touchedBy([{ kind: 'part', part: 'name', value: 'x' }])).toMatchObject({
      all: false,
      project: false,
    });
    const { settings } = cleanProject();
    expect(touchedBy([{ kind: 'part', part: 'settings', value: settings }]).all).toBe(true);
  });

  test('watts touch their fixture, not addresses, rows or tags', () => {
    const touched = touchedBy([
      { kind: 'set', table: 'fixtures', key: 'a', field: 'loadW', value: 1 },
    ]);
    expect(touched).toMatchObject({
      all: false,
      membership: false,
      grouping: false,
      addresses: false,
      project: false,
    });
    expect([...touched.fixtures]).toEqual(['a']);
  });
});

describe('findings', () => {
  const messy = withType(
    withCircuit(
      withFixture(withFixture(cleanProject(), 'R1f2', { address: 4 }), 'R2f3', { universe: 7 }),
      'c1',
      { breakerA: 25 },
    ),
    'U2',
    { leakageMa: null },
  );

  test('worst first, then in the order of limits and runs', () => {
    const found = anew(messy);
    const keys = found.map((f) => severityRank(f.severity) * 100 + limitIds.indexOf(f.limit));
    expect(keys).toEqual([...keys].sort((a, b) => a - b));
    expect(countFindings(found)).toEqual({ stop: 1, breach: 2, watch: 0, note: 0, notChecked: 1 });
  });

  test('the run is the one its fixtures are on, null where they are on several', () => {
    const across = withFixture(cleanProject(), 'R2f1', { address: 13 });
    const [overlap] = raised(across);
    expect([overlap?.limit, overlap?.run, tagsOf(overlap, across)]).toEqual([
      'address-overlap',
      null,
      ['R1-04', 'R2-01'],
    ]);
    const twins = withFixture(cleanProject(), 'R2f4', { tag: 'R2-03' });
    expect(raised(twins).find((f) => f.limit === 'duplicate-tag')?.run).toBe('R2');
  });

  test('ids stay the same while limit and place do, whatever the numbers', () => {
    const ids = (ratingA: number) =>
      raised(withLine(cleanProject(), 'K1', { ratingA })).map((f) => f.id);
    expect(ids(0.7)).toEqual(ids(0.3));
  });

  test('ids are unique where names are not: an output named like a run, rows without tags', () => {
    const outputs = withType(
      withType(withRun(cleanProject(), 'R2', { dataOutput: 'R1' }), 'U1', { unitLoad: 9 }),
      'U2',
      { unitLoad: 9 },
    );
    const tagless = ['R1f1', 'R1f2', 'R2f1', 'R2f2'].reduce(
      (p, id) => withFixture(p, id, { tag: null, fedFrom: null }),
      outputs,
    );
    const job = withFixture(withFixture(tagless, 'R1f2', { address: 2 }), 'R2f2', { address: 18 });
    const found = anew(job);
    expect(found.filter((f) => f.limit === 'address-overlap')).toHaveLength(2);
    expect(found.filter((f) => f.limit === 'unit-loads')).toHaveLength(2);
    expect(new Set(found.map((f) => f.id)).size).toBe(found.length);
  });

  test('a share set on several runs is silent; equal starts in other universes too', () => {
    const shared = ['R1f1', 'R2f1'].reduce(
      (p, id) => withFixture(p, id, { shareSet: 'M', address: 1 }),
      withType(cleanProject(), 'U2', { name: 'U2' }),
    );
    // Members of a share must be of one type.
    const alike = withFixture(shared, 'R2f1', { type: 'U1' });
    expect(raised(shared).map((f) => f.limit)).toEqual(['address-overlap']);
    expect(raised(alike)).toEqual([]);
  });
});

describe('source cells of a finding', () => {
  const origin = (row: number) => ({ file: 0, sheet: 'West wing', row, cells: [] });
  const fixtures = new Map([
    ['a', { ...blankFixture('a'), origin: origin(12) }],
    ['b', { ...blankFixture('b'), origin: null }],
  ]);
  const column = (id: string, at: number) => ({ column: at, header: id, columnId: id, unit: null });
  const source = singleSource({
    fileName: 'x.csv',
    sheet: 'West wing',
    headerRow: 3,
    columns: [column('tag', 0), column('address', 27)],
    rowsRead: 2,
    rowsSkipped: [],
    readings: [],
  });

  test('the column where the file has it, the tag where it has not, nothing for new rows', () => {
    const [finding] = raised(withLine(cleanProject(), 'K1', { ratingA: 0.1 }));
    if (finding === undefined) throw new Error('no finding');
    const marks = [
      { fixtureId: 'a', column: 'address' as const },
      { fixtureId: 'a', column: 'voltsHere' as const },
      { fixtureId: 'b', column: 'address' as const },
    ];
    expect(columnLetters(27)).toBe('AB');
    expect(findingCells({ ...finding, marks }, fixtures, source)).toEqual([
      "'West wing'!AB12",
      "'West wing'!A12",
    ]);
    expect(findingCells({ ...finding, marks }, fixtures, null)).toEqual([]);
  });
});

test('ten thousand fixtures in 500 runs: time of a session and of one edit, printed', () => {
  const p = cleanProject();
  const [model, run, circuit] = [p.fixtures[0], p.runs[0], p.circuits[0]];
  if (model === undefined || run === undefined || circuit === undefined)
    throw new Error('no model');
  const runs = Array.from({ length: 500 }, (_, i) => ({
    ...run,
    name: `R${i}`,
    circuitId: `c${i}`,
  }));
  const fixtures = runs.flatMap((r, i) =>
    Array.from({ length: 20 }, (_, k) => ({
      ...model,
      id: `f${i}-${k}`,
      tag: `T${i}-${k}`,
      run: r.name,
      place: k + 1,
      fedFrom: k === 0 ? 'BOX' : `T${i}-${k - 1}`,
      universe: 1 + Math.floor(i / 6),
      address: 1 + ((i % 6) * 20 + k) * 4,
    })),
  );
  const project = {
    ...p,
    runs,
    circuits: runs.map((r) => ({ ...circuit, id: r.circuitId, name: r.name })),
    fixtures,
  };
  const times: number[] = [];
  for (let i = 0; i < 4; i += 1) {
    const start = performance.now();
    expect(new EngineSession(project).findings.length).toBeGreaterThan(0);
    times.push(performance.now() - start);
  }
  const session = new EngineSession(project);
  const edits = (
    [
      ['load', 50],
      ['address', 3],
    ] as const
  ).map(([column, value]) => {
    const edit = editCell(session.project, 'f250-10', column, value);
    if (!edit.ok) throw new Error(edit.reason);
    const applied = applyCommand(session.project, edit.command);
    if (!applied.ok) throw new Error(applied.reason);
    const start = performance.now();
    session.update(applied.project, edit.command.changes);
    expect(session.findings.length).toBeGreaterThan(0);
    return performance.now() - start;
  });
  const shown = (ms: readonly number[]) => ms.map((t) => t.toFixed(1)).join(', ');
  console.log(
    `10,000 fixtures: session ${shown(times)} ms; edit of watts, of an address ${shown(edits)} ms`,
  );
  // Far above what it takes: only a change of order of magnitude fails here.
  expect(Math.min(...times)).toBeLessThan(2_000);
});
