import type { EngineSession } from '../../session/engine-session.ts';
import type { RunResult } from '../../solve/run-result.ts';

export interface RunSlots {
  /** The run's one universe; null where there is none or more than one. */
  readonly universe: number | null;
  readonly universes: readonly number[];
  /** Different slots its fixtures take; null where one of them has none. */
  readonly slotsUsed: number | null;
}

/** Slots a run takes; fixtures that share an address count once. */
export function runSlots(run: RunResult, session: EngineSession): RunSlots {
  const universes = new Set<number>();
  const slots = new Set<string>();
  let complete = true;
  for (const { fixture } of run.facts) {
    const slot = session.plan.get(fixture.id);
    const { universe = null, address = null, lastAddress = null } = slot ?? {};
    if (universe !== null) universes.add(universe);
    if (universe === null || address === null || lastAddress === null) complete = false;
    else for (let n = address; n <= lastAddress; n += 1) slots.add(`${universe}/${n}`);
  }
  const list = [...universes];
  const [first] = list;
  const universe = list.length === 1 && first !== undefined ? first : null;
  return { universe, universes: list, slotsUsed: complete ? slots.size : null };
}
