import { findOverlaps, groupOverlaps, type Overlap, type SlotHolder } from '../../dmx/overlaps.ts';
import type { FixtureFacts } from '../../solve/fixture-facts.ts';
import { nameKey } from '../../solve/fixture-facts.ts';
import type {
  BrokenLimit,
  LimitContext,
  Outcome,
  UniverseLimit,
  UniverseResult,
} from '../limit.ts';
import { idsOf, labelOf, marksOf, notChecked } from '../outcome.ts';
import { repairedStarts, startsInWords } from '../remedies/address-remedies.ts';
import { sayOverlap } from '../words/data-words.ts';

function holderOf(facts: FixtureFacts, context: LimitContext): SlotHolder | null {
  const { fixture } = facts;
  const slot = context.plan.get(fixture.id);
  if (slot?.address == null || slot.lastAddress === null) return null;
  return {
    id: fixture.id,
    first: slot.address,
    last: slot.lastAddress,
    shareSet: fixture.shareSet === null ? null : nameKey(fixture.shareSet),
    kind: `${nameKey(fixture.type ?? '')}\u0000${nameKey(fixture.mode ?? '')}`,
  };
}

function outcomeOf(
  group: readonly Overlap[],
  universe: number,
  facts: ReadonlyMap<string, FixtureFacts>,
): Outcome {
  const ids = [...new Set(group.flatMap(({ a, b }) => [a.id, b.id]))];
  const label = (id: string) => labelOf(facts.get(id));
  const pairs = group.map(({ a, b, slots }) => {
    const first = Math.max(a.first, b.first);
    return `${label(a.id)} and ${label(b.id)} (slots ${first} to ${first + slots - 1})`;
  });
  const slots = group.reduce((total, overlap) => total + overlap.slots, 0);
  return {
    severity: 'breach',
    part: label(ids[0] ?? ''),
    fixtureIds: ids,
    marks: marksOf(ids, 'address'),
    value: group.length,
    allowed: 0,
    unit: 'pairs',
    level: null,
    message: sayOverlap({ universe, pairs, slots }),
  };
}

function check(result: UniverseResult, context: LimitContext): Outcome[] {
  const facts = new Map(result.facts.map((f) => [f.fixture.id, f]));
  const holders: SlotHolder[] = [];
  const unknown: FixtureFacts[] = [];
  for (const f of result.facts) {
    const holder = holderOf(f, context);
    if (holder === null) unknown.push(f);
    else holders.push(holder);
  }
  const outcomes = groupOverlaps(findOverlaps(holders)).map((group) =>
    outcomeOf(group, result.universe, facts),
  );
  if (unknown.length > 0) {
    const ids = idsOf(unknown);
    outcomes.push(
      notChecked(
        'Address overlap',
        `universe ${result.universe}`,
        'start address and footprint',
        ids,
        marksOf(ids, 'address'),
      ),
    );
  }
  return outcomes;
}

function remedies(result: UniverseResult, context: LimitContext, broken: BrokenLimit): string[] {
  const wanted = new Set(broken.fixtureIds);
  const facts = result.facts.filter((f) => wanted.has(f.fixture.id));
  const starts = repairedStarts(facts, result.universe, context);
  return starts === null || starts.length === 0
    ? []
    : [`Starts without overlap, the others as they are: ${startsInWords(starts)}.`];
}

/** Slot ranges of one universe, apart from declared share sets with one start, type and mode. */
export const addressOverlap: UniverseLimit = {
  id: 'address-overlap',
  title: 'Address overlap',
  basis:
    'ANSI E1.11 (DMX512-A): a slot drives every fixture that holds it. Verify in the adopted edition.',
  needs: 'universe, start address and footprint',
  scope: 'universe',
  check,
  remedies,
};
