/** Ways out that change addresses: tried against everything else in the universe. */
import { lastSlot, slotsPerUniverse, UniverseMap } from '../../dmx/slot-range.ts';
import { type FixtureFacts, nameKey } from '../../solve/fixture-facts.ts';
import type { LimitContext } from '../limit.ts';
import { labelOf } from '../outcome.ts';
import { shareKind } from '../share-kind.ts';

export interface NewStart {
  readonly label: string;
  readonly fixtureId: string;
  readonly universe: number;
  readonly address: number;
}

/** Slots of a universe that fixtures other than these hold. */
export function takenByOthers(
  context: LimitContext,
  universe: number,
  except: ReadonlySet<string>,
): UniverseMap {
  const map = new UniverseMap();
  for (const { fixture } of context.allFacts()) {
    const slot = context.plan.get(fixture.id);
    if (except.has(fixture.id) || slot?.universe !== universe) continue;
    if (slot.address !== null) map.take(slot.address, slot.lastAddress ?? slot.address);
  }
  return map;
}

/** Fixtures of one declared share go together; every other one alone. */
function shares(facts: readonly FixtureFacts[], context: LimitContext): FixtureFacts[][] {
  const groups = new Map<string, FixtureFacts[]>();
  for (const f of facts) {
    const { shareSet, id } = f.fixture;
    const key =
      shareSet === null
        ? id
        : [nameKey(shareSet), startOf(f, context), shareKind(f)].join('\u0000');
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [f]);
    else group.push(f);
  }
  return [...groups.values()];
}

/**
 * Starts without overlap for these fixtures: a locked one keeps its own; each of the others keeps
 * its start where it can, else takes the lowest free slots behind the one before it. A declared
 * share stays one. null where there is no such set of starts.
 */
export function repairedStarts(
  facts: readonly FixtureFacts[],
  universe: number,
  context: LimitContext,
): NewStart[] | null {
  const map = takenByOthers(context, universe, new Set(facts.map((f) => f.fixture.id)));
  const groups = shares(facts, context).map((members) => ({
    members,
    own: members[0] === undefined ? 0 : startOf(members[0], context),
    footprint: members[0]?.footprint ?? null,
    locked: members.some((f) => isLocked(f)),
  }));
  groups.sort((a, b) => Number(b.locked) - Number(a.locked) || a.own - b.own);
  const starts: NewStart[] = [];
  let behind = 1;
  for (const { members, own, footprint, locked } of groups) {
    if (footprint === null) return null;
    const address = locked
      ? map.firstFreeFrom(own, footprint)
      : (map.firstFreeFrom(Math.max(own, behind), footprint) ?? map.lowestFree(footprint));
    if (address === null || (locked && address !== own)) return null;
    map.take(address, lastSlot(address, footprint));
    if (!locked) behind = lastSlot(address, footprint) + 1;
    for (const f of members) {
      const moves = address !== own || context.plan.get(f.fixture.id)?.universe !== universe;
      if (!moves) continue;
      if (locked) return null;
      starts.push({ label: labelOf(f), fixtureId: f.fixture.id, universe, address });
    }
  }
  return starts;
}

function isLocked({ fixture: { locks } }: FixtureFacts): boolean {
  return locks.includes('address') || locks.includes('universe');
}

function startOf(facts: FixtureFacts, context: LimitContext): number {
  return context.plan.get(facts.fixture.id)?.address ?? slotsPerUniverse + 1;
}

export function startsInWords(starts: readonly NewStart[]): string {
  const shown = starts
    .slice(0, 12)
    .map((s) => `${s.label} ${s.address}`)
    .join(', ');
  return starts.length > 12 ? `${shown} and ${starts.length - 12} more` : shown;
}
