import { circuitName } from '../circuit-name.ts';
import type { CircuitLimit, CircuitResult, Outcome } from '../limit.ts';
import { firstsOf, idsOf, marksOf, notChecked, over } from '../outcome.ts';
import { sayBreakerOverLine } from '../words/power-words.ts';
import { ratedAmps } from '../words/shared-words.ts';

function check(result: CircuitResult): Outcome[] {
  const where = circuitName(result);
  const { breakerA } = result.circuit;
  if (breakerA === null) {
    const ids = firstsOf(result.runs);
    return [
      notChecked('Breaker over line', where, 'the breaker rating', ids, marksOf(ids, 'breaker')),
    ];
  }
  const outcomes: Outcome[] = [];
  const lines = new Map<string, CircuitResult['runs'][number][]>();
  for (const run of result.runs) {
    const key = run.line?.name ?? '';
    const runs = lines.get(key);
    if (runs === undefined) lines.set(key, [run]);
    else runs.push(run);
  }
  for (const [name, runs] of lines) {
    const maxA = runs[0]?.line?.maxUpstreamBreakerA ?? null;
    const ids = firstsOf(runs);
    if (maxA === null) {
      outcomes.push(
        notChecked(
          'Breaker over line',
          where,
          'the largest breaker the line may stand behind',
          ids,
          [],
          name,
        ),
      );
    } else if (over(breakerA, maxA)) {
      outcomes.push({
        severity: 'stop',
        part: name,
        fixtureIds: runs.flatMap((run) => idsOf(run.facts)),
        marks: marksOf(ids, 'breaker'),
        value: breakerA,
        allowed: maxA,
        unit: 'A',
        level: null,
        message: sayBreakerOverLine({
          where,
          breakerA,
          maxA,
          runs: runs.map((r) => r.run.name),
          line: name,
        }),
      });
    }
  }
  return outcomes;
}

function remedies(result: CircuitResult): string[] {
  const maxima = result.runs.flatMap((run) => run.line?.maxUpstreamBreakerA ?? []);
  const least = Math.min(...maxima);
  return maxima.length === 0
    ? []
    : [`A breaker of at most ${ratedAmps(least)}, if it carries the load.`];
}

/** Breaker against the largest upstream device in the line's listing. Sizes are steps: no watch near it. */
export const breakerOverLine: CircuitLimit = {
  id: 'breaker-over-line',
  title: 'Breaker over line',
  basis: {
    'north-america': 'Listing of the line; NEC 110.3(B) and 240.4, verify in the adopted edition.',
    iec: 'Listing of the line; IEC 60364-4-43, verify in the adopted edition.',
  },
  needs: 'breaker rating, largest upstream breaker of the line',
  scope: 'circuit',
  check,
  remedies,
};
