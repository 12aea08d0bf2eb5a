import type { RunResult } from '../../solve/run-result.ts';
import { circuitAmps } from '../circuit-amps.ts';
import { circuitName } from '../circuit-name.ts';
import type { CircuitLimit, CircuitResult, LimitContext, Outcome } from '../limit.ts';
import { firstsOf, idsOf, judgeUpper, marksOf, notChecked, openEnds, over } from '../outcome.ts';
import { sayCircuitLoad } from '../words/power-words.ts';
import { amps } from '../words/shared-words.ts';

/** What a workbook with fixed amps at nominal voltage would read; only to warn of it. */
function fixedAmps(runs: readonly RunResult[]): number | null {
  let total = 0;
  for (const run of runs) {
    for (const { loadW, powerFactor } of run.facts) {
      if (loadW === null || powerFactor === null || run.supplyV === null) return null;
      total += loadW / (powerFactor * run.supplyV);
    }
  }
  return total;
}

function check(result: CircuitResult, context: LimitContext): Outcome[] {
  const { circuit } = result;
  // Runs that are not solved can only add to what the others draw.
  const solved = result.runs.filter((run) => run.nominal !== null);
  const whole = solved.length === result.runs.length;
  const runs = whole ? result.runs : solved;
  const where = circuitName(result);
  const firsts = firstsOf(result.runs);
  const { breakerA } = circuit;
  if (breakerA === null) {
    return [
      notChecked('Circuit load', where, 'the breaker rating', firsts, marksOf(firsts, 'breaker')),
    ];
  }
  const factor = context.numbers.continuousFactor;
  const allowedA = breakerA * factor;
  const nominal = circuitAmps(runs, 'nominal');
  if (nominal === null || (!whole && !over(nominal, allowedA))) {
    const unsolved = result.runs.filter((run) => run.nominal === null);
    const names = unsolved.map((run) => `run ${run.run.name}`).join(', ');
    return [notChecked('Circuit load', where, `a solution of ${names}`)];
  }
  const values = { nominal, low: circuitAmps(runs, 'low'), high: circuitAmps(runs, 'high') };
  const judged = judgeUpper(values, allowedA, 'breach', context.numbers.watchShare);
  const outcomes: Outcome[] = [];
  const open = openEnds(runs);
  if (open !== null && judged?.severity !== 'breach') {
    outcomes.push(notChecked('Circuit load', where, open));
  }
  if (judged === null) return outcomes;
  outcomes.push({
    severity: judged.severity,
    part: '',
    fixtureIds: runs.flatMap((run) => idsOf(run.facts)),
    marks: marksOf(firsts, 'circuit'),
    value: judged.value,
    allowed: allowedA,
    unit: 'A',
    level: judged.level,
    message: sayCircuitLoad({
      where,
      judged,
      allowedA,
      breakerA,
      factor,
      runs: runs.map((run) => run.run.name),
      lowA: values.low,
      tolerancePct: context.numbers.supplyTolerancePct,
      fixedA: fixedAmps(runs),
    }),
  });
  return outcomes;
}

/** Runs that could go to a circuit of their own so that the rest holds: the least current moved first. */
function remedies(result: CircuitResult, context: LimitContext): string[] {
  // Without a home run the amps are the least they can be: nothing moved is known to fit.
  if (result.runs.some((run) => !run.homeRunKnown)) return [];
  const allowed = (result.circuit.breakerA ?? 0) * context.numbers.continuousFactor;
  const fits = (runs: readonly RunResult[]) =>
    (['low', 'nominal', 'high'] as const).every((level) => {
      const amps = circuitAmps(runs, level);
      return amps !== null && amps <= allowed;
    });
  const bySize = [...result.runs].sort((a, b) => (a.nominal?.headA ?? 0) - (b.nominal?.headA ?? 0));
  for (const moved of bySize) {
    const rest = result.runs.filter((run) => run !== moved);
    if (rest.length === 0 || !fits(rest) || !fits([moved])) continue;
    const left = circuitAmps(rest, 'nominal') ?? 0;
    return [
      `Move run ${moved.run.name} to another circuit: ${amps(left)} stay here, ${amps(moved.nominal?.headA ?? 0)} there.`,
    ];
  }
  return [];
}

/** True amps of all runs of a circuit against the breaker's continuous allowance. */
export const circuitLoad: CircuitLimit = {
  id: 'circuit-load',
  title: 'Circuit load',
  basis: {
    'north-america':
      'NEC 210.19 and 210.20, CEC 8-104: continuous load at most 80 % of the breaker, verify in the adopted edition.',
    iec: 'IEC 60364-4-43: design current at most the rated current of the breaker, verify in the adopted edition.',
  },
  needs: 'breaker rating, home runs, and a solution of every run of the circuit',
  scope: 'circuit',
  check,
  remedies,
};
