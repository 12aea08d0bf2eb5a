import type { ColumnId } from '../../columns/column-table.ts';
import type { RunField, RunStatement } from '../../document/project.ts';
import type { FixtureFacts } from '../../solve/fixture-facts.ts';
import type { RunResult } from '../../solve/run-result.ts';
import { formatLength } from '../../units/format-quantity.ts';
import type { LimitContext, Outcome, RunLimit } from '../limit.ts';
import { idsOf, labelOf, marksOf, notChecked, plainOutcome } from '../outcome.ts';
import { sayDiffering } from '../words/value-words.ts';

interface Field {
  readonly field: RunField;
  readonly column: ColumnId;
  readonly words: string;
  readonly unit: 'length' | 'A' | 'V' | null;
  readonly used: (run: RunResult) => string | number | null;
}

/** Supply is not here: differing voltages are the mixed-voltage limit's finding. */
const fields: readonly Field[] = [
  { field: 'panel', column: 'panel', words: 'panel', unit: null, used: (r) => r.circuit.panel },
  {
    field: 'circuit',
    column: 'circuit',
    words: 'circuit',
    unit: null,
    used: (r) => r.circuit.name,
  },
  {
    field: 'breakerA',
    column: 'breaker',
    words: 'breaker',
    unit: 'A',
    used: (r) => r.circuit.breakerA,
  },
  {
    field: 'protection',
    column: 'protection',
    words: 'protection',
    unit: null,
    used: (r) => r.circuit.protection,
  },
  { field: 'line', column: 'line', words: 'line', unit: null, used: (r) => r.run.line },
  {
    field: 'conductor',
    column: 'conductor',
    words: 'conductor',
    unit: null,
    used: (r) => r.run.conductor,
  },
  {
    field: 'homeRunM',
    column: 'homeRun',
    words: 'home run',
    unit: 'length',
    used: (r) => r.run.homeRunM,
  },
  {
    field: 'leadInM',
    column: 'leadIn',
    words: 'lead-in',
    unit: 'length',
    used: (r) => r.run.leadInM,
  },
];

function statement(facts: FixtureFacts, field: RunField): RunStatement[RunField] | undefined {
  return facts.fixture.differing?.[field];
}

/** Rows that state a value of the run in a way nobody could read: they may say something else. */
function unreadRows(run: RunResult, where: string): Outcome[] {
  const columns = [...fields, { column: 'supply' as const, words: 'supply' }];
  return columns.flatMap(({ column, words }): Outcome[] => {
    const ids = idsOf(run.facts.filter((f) => f.isUnread(column)));
    if (ids.length === 0) return [];
    const need = `a readable ${words} on every row that states one`;
    return [
      notChecked('Differing values', where, need, ids, marksOf(ids, column), `unread ${column}`),
    ];
  });
}

function check(run: RunResult, context: LimitContext): Outcome[] {
  const where = `run ${run.run.name}`;
  const outcomes: Outcome[] = [];
  const show = (value: string | number | null | undefined, unit: Field['unit']): string => {
    if (value === null || value === undefined) return 'nothing';
    if (unit === 'length') return formatLength(Number(value), context.project.settings.displayUnit);
    return unit === null ? String(value) : `${value} ${unit}`;
  };
  const differs = run.facts.some((f) => f.fixture.differing !== null);
  for (const { field, column, words, unit, used } of differs ? fields : []) {
    const strays = run.facts.filter((f) => statement(f, field) !== undefined);
    if (strays.length === 0) continue;
    const ids = idsOf(strays);
    const other = [...new Set(strays.map((f) => show(statement(f, field), unit)))];
    const message = sayDiffering({
      what: words,
      where,
      used: show(used(run), unit),
      other,
      tags: strays.map(labelOf),
    });
    outcomes.push(plainOutcome('breach', field, ids, marksOf(ids, column), message));
  }
  outcomes.push(...unreadRows(run, where));
  if (run.facts.length > 1 && run.circuit.breakerA === null && run.supplyV === null) {
    const ids = idsOf(run.facts);
    outcomes.push(
      notChecked(
        'Differing values',
        where,
        'a supply or a circuit that rows could agree on',
        ids,
        [],
        'none',
      ),
    );
  }
  return outcomes;
}

/** Values of a run stand once; a row that says something else is shown, the first row's value is used. */
export const differingValues: RunLimit = {
  id: 'differing-values',
  title: 'Differing values',
  basis: 'A run has one panel, circuit, breaker, protection, line, home run and lead-in.',
  needs: 'supply or circuit on at least one row of the run',
  scope: 'run',
  check,
  remedies: () => ['Type the right value once; it then holds for the whole run.'],
};
