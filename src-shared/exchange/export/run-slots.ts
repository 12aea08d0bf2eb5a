import type { EngineSession } from '../../session/engine-session.ts';
import type { RunResult } from '../../solve/run-result.ts';

export interface RunSlots {
  /** The run's one universe; null where there is none or more than one. */
  readonly universe: number | null;
  readonly universes: readonly number[];
  /** Different slots its fixtures take; null where one of them has none. */
  readonly slotsUsed: number | null;
}

/** Ranges of slots by universe; counts the different ones, however long the ranges are. */
export class SlotCount {
  private readonly ranges = new Map<number | null, [first: number, last: number][]>();

  add(universe: number | null, first: number, last: number): void {
    const list = this.ranges.get(universe);
    if (list === undefined) this.ranges.set(universe, [[first, last]]);
    else list.push([first, last]);
  }

  get slots(): number {
    let count = 0;
    for (const list of this.ranges.values()) {
      let end = Number.NEGATIVE_INFINITY;
      for (const [first, last] of [...list].sort(([a], [b]) => a - b)) {
        count += Math.max(0, last - Math.max(first, end + 1) + 1);
        end = Math.max(end, last);
      }
    }
    return count;
  }
}

/** Slots a run takes; fixtures that share an address count once. */
export function runSlots(run: RunResult, session: EngineSession): RunSlots {
  const universes = new Set<number>();
  const count = new SlotCount();
  let complete = true;
  for (const { fixture } of run.facts) {
    const slot = session.plan.get(fixture.id);
    const { universe = null, address = null, lastAddress = null } = slot ?? {};
    if (universe !== null) universes.add(universe);
    if (universe === null || address === null || lastAddress === null) complete = false;
    else count.add(universe, address, lastAddress);
  }
  const list = [...universes];
  const [first] = list;
  const universe = list.length === 1 && first !== undefined ? first : null;
  return { universe, universes: list, slotsUsed: complete ? count.slots : null };
}
