import type { ProfileId } from '../../document/project.ts';
import { smallConductorBreakerA } from '../../electrical/conductor.ts';
import type { RunResult } from '../../solve/run-result.ts';
import { parseConductorSize } from '../../units/conductor-size.ts';
import { circuitName } from '../circuit-name.ts';
import type { CircuitLimit, CircuitResult, LimitContext, Outcome } from '../limit.ts';
import { firstsOf, idsOf, marksOf, notChecked, over } from '../outcome.ts';
import { sayBreakerOverLine } from '../words/power-words.ts';
import { ratedAmps } from '../words/shared-words.ts';

interface Ceiling {
  readonly maxA: number;
  /** Words for what sets it: "line H12" or "14 AWG copper". */
  readonly of: string;
}

/** The least of what the listing and the conductors of a run allow; null where neither is known. */
function ceilingOf(run: RunResult, profile: ProfileId): Ceiling | null {
  const ceilings: Ceiling[] = [];
  const listed = run.line?.maxUpstreamBreakerA ?? null;
  if (listed !== null) ceilings.push({ maxA: listed, of: `line ${run.line?.name ?? ''}` });
  if (profile === 'north-america') {
    for (const name of run.conductors) {
      const size = parseConductorSize(name);
      const maxA = size.ok ? smallConductorBreakerA(size) : null;
      if (maxA !== null) ceilings.push({ maxA, of: `${name} copper` });
    }
  }
  ceilings.sort((a, b) => a.maxA - b.maxA);
  return ceilings[0] ?? null;
}

function check(result: CircuitResult, context: LimitContext): Outcome[] {
  const where = circuitName(result);
  const { breakerA } = result.circuit;
  const title = 'Breaker over line';
  if (breakerA === null) {
    const ids = firstsOf(result.runs);
    return [notChecked(title, where, 'the breaker rating', ids, marksOf(ids, 'breaker'))];
  }
  const { profile } = context.project.settings;
  const outcomes: Outcome[] = [];
  const broken = new Map<string, { ceiling: Ceiling; runs: RunResult[] }>();
  const unlisted = new Map<string, RunResult[]>();
  for (const run of result.runs) {
    const line = run.line?.name ?? '';
    const ceiling = ceilingOf(run, profile);
    if (ceiling !== null && over(breakerA, ceiling.maxA)) {
      const key = `${line}\u0000${ceiling.of}`;
      const group = broken.get(key) ?? { ceiling, runs: [] };
      group.runs.push(run);
      broken.set(key, group);
    } else if ((run.line?.maxUpstreamBreakerA ?? null) === null) {
      unlisted.set(line, [...(unlisted.get(line) ?? []), run]);
    }
  }
  for (const { ceiling, runs } of broken.values()) {
    outcomes.push({
      severity: 'stop',
      part: ceiling.of.replace(/^line /, ''),
      fixtureIds: runs.flatMap((run) => idsOf(run.facts)),
      marks: marksOf(firstsOf(runs), 'breaker'),
      value: breakerA,
      allowed: ceiling.maxA,
      unit: 'A',
      level: null,
      message: sayBreakerOverLine({
        where,
        breakerA,
        maxA: ceiling.maxA,
        runs: runs.map((r) => r.run.name),
        of: ceiling.of,
      }),
    });
  }
  const need = 'the largest breaker the line may stand behind';
  for (const [name, runs] of unlisted) {
    outcomes.push(notChecked(title, where, need, firstsOf(runs), [], name));
  }
  return outcomes;
}

function remedies(result: CircuitResult, context: LimitContext): string[] {
  const { profile } = context.project.settings;
  const maxima = result.runs.flatMap((run) => ceilingOf(run, profile)?.maxA ?? []);
  const least = Math.min(...maxima);
  return maxima.length === 0
    ? []
    : [`A breaker of at most ${ratedAmps(least)}, if it carries the load.`];
}

/**
 * Breaker against the largest upstream device in the line's listing and, in North America, against
 * the small conductors of line and home run (240.4(D)). Sizes are steps: no watch near it.
 */
export const breakerOverLine: CircuitLimit = {
  id: 'breaker-over-line',
  title: 'Breaker over line',
  basis: {
    'north-america':
      'Listing of the line; NEC 110.3(B) and 240.4(D), verify in the adopted edition.',
    iec: 'Listing of the line; IEC 60364-4-43, verify in the adopted edition.',
  },
  needs: 'breaker rating, largest upstream breaker of the line',
  scope: 'circuit',
  check,
  remedies,
};
