import type { ColumnId } from '../../columns/column-table.ts';
import type { FixtureFacts } from '../../solve/fixture-facts.ts';
import type { Need, RunResult } from '../../solve/run-result.ts';
import type { LimitContext, Outcome, ProjectLimit, RunLimit } from '../limit.ts';
import { idsOf, labelOf, marksOf, plainOutcome } from '../outcome.ts';
import { sayMissing } from '../words/value-words.ts';

const columnOf: Readonly<Record<Need['what'], ColumnId>> = {
  watts: 'load',
  'power factor': 'powerFactor',
  span: 'span',
  'supply voltage': 'supply',
  conductor: 'conductor',
  'home run conductor': 'conductor',
  'home run': 'homeRun',
  'lead-in': 'leadIn',
  place: 'place',
};

function outcomeOf(run: RunResult, need: Need, so: string): Outcome {
  const wanted = new Set(need.fixtureIds);
  const facts = run.facts.filter((f) => wanted.has(f.fixture.id));
  const ids = facts.length > 0 ? idsOf(facts) : idsOf(run.facts.slice(0, 1));
  const message = sayMissing({
    what: need.what,
    where: `run ${run.run.name}`,
    tags: facts.map(labelOf),
    so,
  });
  return plainOutcome('not-checked', need.what, ids, marksOf(ids, columnOf[need.what]), message);
}

function check(run: RunResult): Outcome[] {
  const outcomes = run.needs.map((need) =>
    outcomeOf(run, need, 'The run is not solved without it.'),
  );
  if (!run.homeRunKnown) {
    const so = 'Volts are counted from the head box; drop and amps from the panel are not checked.';
    outcomes.push(outcomeOf(run, { what: 'home run', fixtureIds: [] }, so));
  }
  return outcomes;
}

/** Values without which a run cannot be solved or judged. Never a default for watts, power factor or supply. */
export const missingValue: RunLimit = {
  id: 'missing-value',
  title: 'Missing value',
  basis: 'What the solution of a run needs.',
  needs: 'nothing; it says what is missing',
  scope: 'run',
  check,
  remedies: () => [],
};

/** Fixtures on no run: nothing about them is solved. */
export const missingRun: ProjectLimit = {
  id: 'missing-value',
  title: 'Missing value',
  basis: 'What the solution of a run needs.',
  needs: 'nothing; it says what is missing',
  scope: 'project',
  check: (context: LimitContext) => {
    const { runs } = context.index;
    const onNone = ({ fixture: { run } }: FixtureFacts) => run === null || !runs.has(run);
    const loose = context.allFacts().filter(onNone);
    if (loose.length === 0) return [];
    const ids = idsOf(loose);
    const message = sayMissing({
      what: 'run',
      where: ids.length === 1 ? '1 fixture' : `${ids.length} fixtures`,
      tags: loose.map(labelOf),
      so: 'They are on no run and not solved.',
    });
    return [plainOutcome('not-checked', 'run', ids, marksOf(ids, 'run'), message)];
  },
  remedies: () => [],
};
