/** Random user actions on a job, fit and unfit. */
import { type ColumnId, columns } from '../../src-shared/columns/column-table.ts';
import { applyCommand } from '../../src-shared/document/apply.ts';
import {
  blankCircuit,
  blankFixture,
  blankRun,
  blankType,
} from '../../src-shared/document/blank.ts';
import type { Command } from '../../src-shared/document/change.ts';
import {
  asOneStep,
  type CellValue,
  editCell,
  freeId,
} from '../../src-shared/document/edit-cell.ts';
import { insertAfter, removeFixtures, setLock } from '../../src-shared/document/edit-rows.ts';
import type { Project } from '../../src-shared/document/project.ts';
import { pick, type Random, whole } from './random-project.ts';

const texts: Partial<Record<ColumnId, readonly string[]>> = {
  run: ['A', 'B', 'C', 'A/B', 'new run'],
  circuit: ['1', '2', '1,3'],
  panel: ['P1', 'P2'],
  type: ['T1', 't2', 'nothing known'],
  mode: ['4ch', '9ch', 'long', '7 slots'],
  line: ['K1', 'K2', 'none such'],
  conductor: ['12 AWG', '4 mm²', 'odd'],
  protection: ['none', 'RCD 30 mA', 'Class A GFCI'],
  shareSet: ['M1', 'M2'],
  fedFrom: ['BOX', 'T-f1', 'T-f3'],
  tag: ['twin', 'T-f2', 'new tag'],
};

const numbers: Partial<Record<ColumnId, readonly number[]>> = {
  place: [1, 2, 3, 7],
  universe: [1, 2, 3, 9],
  address: [1, 5, 91, 500, 512],
  footprint: [1, 4, 30, 512],
  supply: [120, 208, 240, 347],
  breaker: [15, 20, 25],
  powerFactor: [1, 0.9, 0.5],
  load: [0, 40, 280, 5000],
  homeRun: [0, 30, 400],
};

/** Values nobody should be able to type anywhere, and some that fit only here or there. */
const odd: readonly CellValue[] = [null, '', '  ', 'words', -1, 0, 0.5, 1e9, Number.NaN, Infinity];

function randomValue(random: Random, column: ColumnId): CellValue {
  if (random() < 0.2) return pick(random, odd);
  const known = texts[column] ?? numbers[column];
  if (known !== undefined) return pick<CellValue>(random, known);
  return random() < 0.5 ? whole(random, 0, 60) / 4 : `text ${whole(random, 1, 9)}`;
}

function randomEdit(random: Random, project: Project): Command | null {
  if (project.fixtures.length === 0) return null;
  const column = pick(random, columns).id;
  const row = random() < 0.02 ? 'gone' : pick(random, project.fixtures).id;
  const edit = editCell(project, row, column, randomValue(random, column));
  return edit.ok ? edit.command : null;
}

/** A change of one of the small tables or of the settings. */
function randomTableChange(random: Random, project: Project): Command {
  const run = pick(random, project.runs).name;
  const circuit = pick(random, project.circuits).id;
  const line = pick(random, project.lines).name;
  const type = pick(random, project.types).name;
  const used = new Set(project.fixtures.map((f) => f.run));
  const free = project.runs.filter((r) => !used.has(r.name));
  const command = pick<Command['changes']>(random, [
    [{ kind: 'set', table: 'types', key: type, field: 'loadW', value: whole(random, 1, 300) }],
    [
      {
        kind: 'set',
        table: 'types',
        key: type,
        field: 'modes',
        value: [{ name: '4ch', footprint: 4 }],
      },
    ],
    [{ kind: 'set', table: 'lines', key: line, field: 'ratingA', value: whole(random, 1, 20) }],
    [{ kind: 'set', table: 'lines', key: line, field: 'jumperLengthsM', value: [1, 4] }],
    [
      {
        kind: 'set',
        table: 'supplies',
        key: 'P1',
        field: 'lineToLineV',
        value: whole(random, 100, 400),
      },
    ],
    [{ kind: 'set', table: 'runs', key: run, field: 'circuitId', value: circuit }],
    [
      {
        kind: 'set',
        table: 'runs',
        key: run,
        field: 'dataOutput',
        value: pick(random, [null, 'S1.1', 'A']),
      },
    ],
    [
      {
        kind: 'set',
        table: 'runs',
        key: run,
        field: 'homeRunConductor',
        value: pick(random, [null, '6 AWG']),
      },
    ],
    [
      {
        kind: 'set',
        table: 'circuits',
        key: circuit,
        field: 'breakerA',
        value: pick(random, [null, 15, 20]),
      },
    ],
    [
      {
        kind: 'set',
        table: 'circuits',
        key: circuit,
        field: 'name',
        value: pick(random, [null, '1', '9']),
      },
    ],
    [
      {
        kind: 'part',
        part: 'settings',
        value: { ...project.settings, supplyTolerancePct: whole(random, 1, 15) },
      },
    ],
    [{ kind: 'part', part: 'revision', value: pick(random, [null, 'B', 'C']) }],
    free[0] === undefined ? [] : [{ kind: 'remove', table: 'runs', keys: [free[0].name] }],
    [
      {
        kind: 'insert',
        table: 'types',
        index: 0,
        records: [
          blankType(
            freeId(
              'N',
              project.types.map((t) => t.name),
            ),
          ),
        ],
      },
    ],
  ]);
  return { label: 'table', changes: command };
}

/** A fixture on a run and circuit that come in the same step. */
function newRun(project: Project): Command {
  const id = freeId(
    'c',
    project.circuits.map((c) => c.id),
  );
  const name = freeId(
    'R',
    project.runs.map((r) => r.name),
  );
  const row = freeId(
    'f',
    project.fixtures.map((f) => f.id),
  );
  return {
    label: 'new run',
    changes: [
      { kind: 'insert', table: 'circuits', index: 0, records: [blankCircuit(id)] },
      { kind: 'insert', table: 'runs', index: project.runs.length, records: [blankRun(name, id)] },
      {
        kind: 'insert',
        table: 'fixtures',
        index: 0,
        records: [{ ...blankFixture(row), run: name, place: 1, type: 'T1' }],
      },
    ],
  };
}

/** Several edits that build on one another as one step. */
function randomSteps(random: Random, project: Project): Command {
  const commands: Command[] = [];
  let now = project;
  for (let i = whole(random, 2, 5); i > 0; i -= 1) {
    const command = randomEdit(random, now) ?? randomRows(random, now);
    const applied = command === null ? null : applyCommand(now, command);
    if (command === null || applied?.ok !== true) continue;
    commands.push(command);
    now = applied.project;
  }
  return asOneStep('several', commands);
}

function randomRows(random: Random, project: Project): Command | null {
  if (project.fixtures.length === 0) return null;
  const ids = project.fixtures.filter(() => random() < 0.2).map((f) => f.id);
  const one = pick(random, project.fixtures).id;
  const kind = whole(random, 1, 3);
  if (kind === 1) return insertAfter(project, one);
  if (kind === 2) return removeFixtures(project, random() < 0.7 ? [one] : ids);
  return setLock(project, ids, pick(random, ['address', 'place', 'supply', 'run']), random() < 0.5);
}

/** One user action; null where the job refuses it or has nothing to act on. */
export function randomCommand(random: Random, project: Project): Command | null {
  const kind = random();
  if (kind < 0.55) return randomEdit(random, project);
  if (kind < 0.75) return randomRows(random, project);
  if (kind < 0.88) return randomTableChange(random, project);
  if (kind < 0.93) return newRun(project);
  return randomSteps(random, project);
}
