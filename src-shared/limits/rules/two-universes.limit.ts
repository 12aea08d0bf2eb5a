import { ownUniverse } from '../../dmx/address-plan.ts';
import type { RunResult } from '../../solve/run-result.ts';
import type { LimitContext, Outcome, RunLimit } from '../limit.ts';
import { idsOf, labelOf, marksOf, notChecked } from '../outcome.ts';
import { repairedStarts, startsInWords } from '../remedies/address-remedies.ts';
import { sayTwoUniverses } from '../words/data-words.ts';

function isInOneUniverse(run: RunResult, { plan }: LimitContext): boolean {
  const [first] = run.facts;
  const universe = first === undefined ? null : plan.slotOf(first).universe;
  return universe !== null && run.facts.every((f) => plan.slotOf(f).universe === universe);
}

function check(run: RunResult, context: LimitContext): Outcome[] {
  if (isInOneUniverse(run, context)) return [];
  const slots = run.facts.map((facts) => ({
    facts,
    universe: context.plan.slotOf(facts).universe,
  }));
  const universes = [...new Set(slots.flatMap((s) => s.universe ?? []))].sort((a, b) => a - b);
  const own = ownUniverse(slots);
  const outcomes: Outcome[] = [];
  if (universes.length > 1 && own !== null) {
    const strays = slots
      .filter((s) => s.universe !== null && s.universe !== own)
      .map((s) => s.facts);
    const ids = idsOf(strays);
    outcomes.push({
      severity: 'breach',
      part: '',
      fixtureIds: ids,
      marks: marksOf(ids, 'universe'),
      value: universes.length,
      allowed: 1,
      unit: 'universes',
      level: null,
      message: sayTwoUniverses({ run: run.run.name, universes, own, strays: strays.map(labelOf) }),
    });
  }
  const unknown = idsOf(slots.filter((s) => s.universe === null).map((s) => s.facts));
  if (unknown.length > 0) {
    outcomes.push(
      notChecked(
        'Two universes',
        `run ${run.run.name}`,
        'the universe of every fixture',
        unknown,
        marksOf(unknown, 'universe'),
      ),
    );
  }
  return outcomes;
}

function remedies(run: RunResult, context: LimitContext): string[] {
  const own = ownUniverse(
    run.facts.map((f) => ({ universe: context.plan.get(f.fixture.id)?.universe ?? null })),
  );
  if (own === null) return [];
  const strays = run.facts.filter((f) => (context.plan.get(f.fixture.id)?.universe ?? own) !== own);
  const starts = repairedStarts(strays, own, context);
  return starts === null
    ? []
    : [`Universe ${own} with starts ${startsInWords(starts)}: these slots are free there.`];
}

/** One data line in the jacket carries one universe. */
export const twoUniverses: RunLimit = {
  id: 'two-universes',
  title: 'Two universes',
  basis: 'ANSI E1.11: one data line carries one universe. Verify in the adopted edition.',
  needs: 'universe of every fixture of the run',
  scope: 'run',
  check,
  remedies,
};
