/** Ways out that change addresses: tried against everything else in the universe. */
import { lastSlot, slotsPerUniverse, UniverseMap } from '../../dmx/slot-range.ts';
import type { FixtureFacts } from '../../solve/fixture-facts.ts';
import type { LimitContext } from '../limit.ts';
import { labelOf } from '../outcome.ts';

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

/** Starts without overlap for these fixtures: each keeps its start where it can, else the lowest free slots behind the one before it. */
export function repairedStarts(
  facts: readonly FixtureFacts[],
  universe: number,
  context: LimitContext,
): NewStart[] | null {
  const map = takenByOthers(context, universe, new Set(facts.map((f) => f.fixture.id)));
  const starts: NewStart[] = [];
  const inOrder = [...facts].sort((a, b) => startOf(a, context) - startOf(b, context));
  let behind = 1;
  for (const f of inOrder) {
    const { footprint } = f;
    if (footprint === null) return null;
    const own = startOf(f, context);
    const locked = f.fixture.locks.includes('address') || f.fixture.locks.includes('universe');
    const address =
      map.firstFreeFrom(Math.max(own, behind), footprint) ?? map.lowestFree(footprint);
    if (address === null || (locked && address !== own)) return null;
    map.take(address, lastSlot(address, footprint));
    behind = lastSlot(address, footprint) + 1;
    if (address !== own || context.plan.get(f.fixture.id)?.universe !== universe) {
      starts.push({ label: labelOf(f), fixtureId: f.fixture.id, universe, address });
    }
  }
  return starts;
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
