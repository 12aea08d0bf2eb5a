import type { FixtureFacts } from '../../solve/fixture-facts.ts';
import type { LimitContext, Outcome, ProjectLimit } from '../limit.ts';
import { idsOf, labelOf, marksOf, notChecked, plainOutcome } from '../outcome.ts';
import { sayFootprintUnknown } from '../words/data-words.ts';

function groupBy(
  facts: readonly FixtureFacts[],
  key: (f: FixtureFacts) => string,
): Map<string, FixtureFacts[]> {
  const groups = new Map<string, FixtureFacts[]>();
  for (const f of facts) {
    const k = key(f);
    const group = groups.get(k);
    if (group === undefined) groups.set(k, [f]);
    else group.push(f);
  }
  return groups;
}

function check(context: LimitContext): Outcome[] {
  const lacking = context.allFacts().filter((f) => f.footprint === null);
  if (lacking.length === 0) return [];
  const wrong = lacking.filter((f) => f.footprintSource === 'mode-not-of-type');
  const unknown = lacking.filter((f) => f.footprintSource !== 'mode-not-of-type');
  const outcomes: Outcome[] = [];
  const typeAndMode = (f: FixtureFacts) => `${f.type?.name ?? ''}\u0000${f.fixture.mode ?? ''}`;
  for (const [key, facts] of groupBy(wrong, typeAndMode)) {
    const [first] = facts;
    const ids = idsOf(facts);
    const message = sayFootprintUnknown({
      type: first?.type?.name ?? '',
      mode: first?.fixture.mode ?? '',
      modes: first?.type?.modes.map((m) => m.name) ?? [],
      tags: facts.map(labelOf),
    });
    outcomes.push(
      plainOutcome('breach', key.replace('\u0000', ' '), ids, marksOf(ids, 'mode'), message),
    );
  }
  for (const [type, facts] of groupBy(unknown, (f) => f.fixture.type ?? '')) {
    const ids = idsOf(facts);
    const where = type === '' ? 'fixtures without type' : `type ${type}`;
    outcomes.push(
      notChecked(
        'Footprint',
        where,
        'the mode or the number of slots',
        ids,
        marksOf(ids, 'footprint'),
        `type ${type}`,
      ),
    );
  }
  return outcomes;
}

/** A mode must be one its type has; without mode or slots nothing about addresses can be checked. */
export const footprintUnknown: ProjectLimit = {
  id: 'footprint-unknown',
  title: 'Footprint unknown',
  basis: 'Modes of the type as its maker states them.',
  needs: 'mode with its slots, or the footprint itself',
  scope: 'project',
  check,
  remedies: () => ['Set a mode the type has, or add the mode with its slots to the type.'],
};
