import type { AddressSlot } from '../../dmx/address-plan.ts';
import { slotsPerUniverse } from '../../dmx/slot-range.ts';
import type { FixtureFacts } from '../../solve/fixture-facts.ts';
import type { BrokenLimit, LimitContext, Outcome, ProjectLimit } from '../limit.ts';
import { labelOf, marksOf, notChecked } from '../outcome.ts';
import { repairedStarts, startsInWords } from '../remedies/address-remedies.ts';
import { sayPast512, sayRunPast512 } from '../words/data-words.ts';

interface Past {
  readonly facts: FixtureFacts;
  readonly universe: number | null;
  readonly first: number;
  readonly last: number;
}

/** How many slots lie outside 1 to 512. */
function excess({ first, last }: Past): number {
  return Math.max(last - slotsPerUniverse, 1 - first);
}

function isInside({ address, lastAddress }: AddressSlot): boolean {
  return (
    address !== null && lastAddress !== null && address >= 1 && lastAddress <= slotsPerUniverse
  );
}

/** One finding a run: the fixture furthest out in numbers, the others by name. */
function outcomeOf(run: string | null, group: readonly Past[]): Outcome | null {
  const [worst, ...others] = [...group].sort((a, b) => excess(b) - excess(a));
  if (worst === undefined) return null;
  const ids = group.map((past) => past.facts.fixture.id);
  const { universe, first, last } = worst;
  const outside = first < 1 || first > slotsPerUniverse;
  return {
    severity: 'breach',
    part: run === null ? 'no run' : `run ${run}`,
    fixtureIds: ids,
    marks: marksOf(ids, 'address'),
    value: outside ? first : last,
    allowed: slotsPerUniverse,
    unit: 'slot',
    level: null,
    message: sayPast512({
      tag: labelOf(worst.facts),
      universe,
      first,
      last,
      others: others.map((past) => labelOf(past.facts)),
    }),
  };
}

/** Runs without addresses that fit no universe: nothing is proposed for them, and this is why. */
function tooLargeRuns(context: LimitContext): Outcome[] {
  const slots = new Map<string, { total: number; ids: string[] }>();
  for (const facts of context.allFacts()) {
    const { id, run } = facts.fixture;
    if (run === null || context.plan.slotOf(facts).address !== null) continue;
    const entry = slots.get(run) ?? { total: 0, ids: [] };
    entry.total += facts.footprint ?? 0;
    entry.ids.push(id);
    slots.set(run, entry);
  }
  return [...slots].flatMap(([run, { total, ids }]): Outcome[] =>
    total <= slotsPerUniverse
      ? []
      : [
          {
            severity: 'breach',
            part: `run ${run} as a whole`,
            fixtureIds: ids,
            marks: marksOf(ids.slice(0, 1), 'footprint'),
            value: total,
            allowed: slotsPerUniverse,
            unit: 'slot',
            level: null,
            message: sayRunPast512(run, total),
          },
        ],
  );
}

function check(context: LimitContext): Outcome[] {
  const byRun = new Map<string | null, Past[]>();
  const unknown: string[] = [];
  for (const facts of context.allFacts()) {
    const { id, run } = facts.fixture;
    const slot = context.plan.slotOf(facts);
    if (isInside(slot)) continue;
    const { address: first, lastAddress: known } = slot;
    const outside = first !== null && (first < 1 || first > slotsPerUniverse);
    if (first === null || (known === null && !outside)) {
      unknown.push(id);
      continue;
    }
    const past = { facts, universe: slot.universe, first, last: known ?? first };
    if (excess(past) <= 0) continue;
    const group = byRun.get(run);
    if (group === undefined) byRun.set(run, [past]);
    else group.push(past);
  }
  const outcomes = [...byRun].flatMap(([run, group]) => outcomeOf(run, group) ?? []);
  if (unknown.length > 0) outcomes.push(...tooLargeRuns(context));
  if (unknown.length > 0) {
    const need = `start address and footprint of ${unknown.length === 1 ? '1 fixture' : `${unknown.length} fixtures`}`;
    outcomes.push(notChecked('Past 512', '', need, unknown, marksOf(unknown, 'address')));
  }
  return outcomes;
}

const moveRun = 'Move the whole run to a universe with room; one data line carries one universe.';

function remedies(context: LimitContext, broken: BrokenLimit): string[] {
  const wanted = new Set(broken.fixtureIds);
  const facts = context.allFacts().filter((f) => wanted.has(f.fixture.id));
  const universes = new Set(facts.map((f) => context.plan.get(f.fixture.id)?.universe ?? null));
  const [universe] = universes;
  if (facts.every((f) => context.plan.slotOf(f).address === null)) {
    return ['Split the run so that each part fits one universe, or choose modes with fewer slots.'];
  }
  if (universe === undefined || universe === null || universes.size > 1) return [moveRun];
  const starts = repairedStarts(facts, universe, context);
  if (starts === null || starts.length === 0) return [moveRun];
  return [`Free in universe ${universe}: ${startsInWords(starts)}.`, `Or: ${moveRun}`];
}

/** Every slot a fixture takes lies in 1 to 512. */
export const past512: ProjectLimit = {
  id: 'past-512',
  title: 'Past 512',
  basis: 'ANSI E1.11 (DMX512-A): at most 512 slots. Verify in the adopted edition.',
  needs: 'start address and footprint',
  scope: 'project',
  check,
  remedies,
};
