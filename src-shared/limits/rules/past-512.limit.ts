import { slotsPerUniverse } from '../../dmx/slot-range.ts';
import type { BrokenLimit, LimitContext, Outcome, ProjectLimit } from '../limit.ts';
import { labelOf, marksOf, notChecked } from '../outcome.ts';
import { repairedStarts, startsInWords } from '../remedies/address-remedies.ts';
import { sayPast512 } from '../words/data-words.ts';

function check(context: LimitContext): Outcome[] {
  const outcomes: Outcome[] = [];
  const unknown: string[] = [];
  for (const facts of context.allFacts()) {
    const { fixture } = facts;
    const slot = context.plan.get(fixture.id);
    const address = slot?.address ?? null;
    const last = slot?.lastAddress ?? null;
    const outside = address !== null && (address < 1 || address > slotsPerUniverse);
    if (address === null || (last === null && !outside)) {
      unknown.push(fixture.id);
      continue;
    }
    const end = last ?? address;
    if (!outside && end <= slotsPerUniverse) continue;
    outcomes.push({
      severity: 'breach',
      part: fixture.id,
      fixtureIds: [fixture.id],
      marks: marksOf([fixture.id], 'address'),
      value: outside ? address : end,
      allowed: slotsPerUniverse,
      unit: 'slot',
      level: null,
      message: sayPast512({
        tag: labelOf(facts),
        universe: slot?.universe ?? null,
        first: address,
        last: end,
      }),
    });
  }
  if (unknown.length > 0) {
    const need = `start address and footprint of ${unknown.length === 1 ? '1 fixture' : `${unknown.length} fixtures`}`;
    outcomes.push(notChecked('Past 512', '', need, unknown, marksOf(unknown, 'address')));
  }
  return outcomes;
}

function remedies(context: LimitContext, broken: BrokenLimit): string[] {
  const facts = context.allFacts().filter((f) => broken.fixtureIds.includes(f.fixture.id));
  const universe = context.plan.get(broken.fixtureIds[0] ?? '')?.universe ?? null;
  const starts = universe === null ? null : repairedStarts(facts, universe, context);
  const whole =
    'Or move the whole run to a universe with room; one data line carries one universe.';
  return starts === null || starts.length === 0
    ? ['Move the whole run to a universe with room; one data line carries one universe.']
    : [`Free in universe ${universe}: ${startsInWords(starts)}.`, whole];
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
