import { findOverlaps, groupOverlaps, type Overlap, type SlotHolder } from '../../dmx/overlaps.ts';
import { slotsPerUniverse, UniverseMap } from '../../dmx/slot-range.ts';
import { type FixtureFacts, nameKey } from '../../solve/fixture-facts.ts';
import type {
  BrokenLimit,
  LimitContext,
  Outcome,
  ProjectLimit,
  UniverseLimit,
  UniverseResult,
} from '../limit.ts';
import { idsOf, labelOf, marksOf, notChecked } from '../outcome.ts';
import { repairedStarts, startsInWords } from '../remedies/address-remedies.ts';
import { shareKind } from '../share-kind.ts';
import { sayOverlap } from '../words/data-words.ts';

function holderOf(facts: FixtureFacts, context: LimitContext): SlotHolder | null {
  const { fixture } = facts;
  const slot = context.plan.slotOf(facts);
  if (slot.address === null || slot.lastAddress === null) return null;
  return {
    id: fixture.id,
    first: slot.address,
    // What lies past the end of the universe is the past-512 limit's finding.
    last: Math.min(slot.lastAddress, slotsPerUniverse),
    shareSet: fixture.shareSet === null ? null : nameKey(fixture.shareSet),
    kind: shareKind(facts),
  };
}

const mostPairsShown = 8;

function outcomeOf(
  group: readonly Overlap[],
  universe: number,
  facts: ReadonlyMap<string, FixtureFacts>,
): Outcome {
  const named = new Set<string>();
  let slots = 0;
  for (const overlap of group) {
    named.add(overlap.a.id).add(overlap.b.id);
    slots += overlap.slots;
  }
  const ids = [...named];
  const label = (id: string) => labelOf(facts.get(id));
  // A universe with all its fixtures on one start has a great many pairs: only those shown are worded.
  const pairs = group.slice(0, mostPairsShown).map(({ a, b, slots: shared }) => {
    const first = Math.max(a.first, b.first);
    const where = shared === 1 ? `slot ${first}` : `slots ${first} to ${first + shared - 1}`;
    return `${label(a.id)} and ${label(b.id)} (${where})`;
  });
  return {
    severity: 'breach',
    part: label(ids[0] ?? ''),
    fixtureIds: ids,
    marks: marksOf(ids, 'address'),
    value: group.length,
    allowed: 0,
    unit: 'pairs',
    level: null,
    message: sayOverlap({ universe, pairs, count: group.length, slots }),
  };
}

/** Whether every fixture is known and holds slots that no other holds. */
function isApart({ facts }: UniverseResult, context: LimitContext): boolean {
  const map = new UniverseMap();
  return facts.every((f) => {
    const { address, lastAddress } = context.plan.slotOf(f);
    if (address === null || lastAddress === null) return false;
    if (!Number.isInteger(address) || !Number.isInteger(lastAddress)) return false;
    return address >= 1 && map.takeFree(address, lastAddress);
  });
}

function check(result: UniverseResult, context: LimitContext): Outcome[] {
  if (isApart(result, context)) return [];
  const facts = new Map(result.facts.map((f) => [f.fixture.id, f]));
  const holders: SlotHolder[] = [];
  const unknown: FixtureFacts[] = [];
  for (const f of result.facts) {
    const holder = holderOf(f, context);
    if (holder === null) unknown.push(f);
    else if (holder.first <= holder.last) holders.push(holder);
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

const head = {
  id: 'address-overlap',
  title: 'Address overlap',
  basis:
    'ANSI E1.11 (DMX512-A): a slot drives every fixture that holds it. Verify in the adopted edition.',
  needs: 'universe, start address and footprint',
} as const;

/** Slot ranges of one universe, apart from declared share sets with one start, type and mode. */
export const addressOverlap: UniverseLimit = { ...head, scope: 'universe', check, remedies };

/** Fixtures in no universe: nothing about their addresses is compared. */
export const addressWithoutUniverse: ProjectLimit = {
  ...head,
  scope: 'project',
  check: (context) => {
    const nowhere = context.allFacts().filter((f) => context.plan.slotOf(f).universe === null);
    if (nowhere.length === 0) return [];
    const ids = idsOf(nowhere);
    const need = `the universe of ${ids.length === 1 ? '1 fixture' : `${ids.length} fixtures`}`;
    return [notChecked(head.title, '', need, ids, marksOf(ids, 'universe'), 'no universe')];
  },
  remedies: () => [],
};
