import type { FixtureFacts } from '../../solve/fixture-facts.ts';
import type { RunResult, SupplyLevel } from '../../solve/run-result.ts';
import type { LimitContext, Outcome, RunLimit, Severity } from '../limit.ts';
import { idsOf, marksOf, notChecked, over } from '../outcome.ts';
import { sayWrongVoltage } from '../words/power-words.ts';
import { volts } from '../words/shared-words.ts';
import { groupByType, type TypeGroup } from './type-groups.ts';

interface Miss {
  readonly severity: Severity;
  readonly level: SupplyLevel;
  readonly levelV: number;
  readonly above: boolean;
}

/**
 * Unloaded supply against the window: above the maximum at nominal or high supply is a stop; below
 * the minimum at nominal a stop, only at low supply a watch. The edges of a window are no "near".
 */
function missOf(supplyV: number, tolerance: number, minV: number, maxV: number): Miss | null {
  const lowV = supplyV * (1 - tolerance);
  const highV = supplyV * (1 + tolerance);
  if (over(supplyV, maxV))
    return { severity: 'stop', level: 'nominal', levelV: supplyV, above: true };
  if (over(minV, supplyV))
    return { severity: 'stop', level: 'nominal', levelV: supplyV, above: false };
  if (over(highV, maxV)) return { severity: 'stop', level: 'high', levelV: highV, above: true };
  if (over(minV, lowV)) return { severity: 'watch', level: 'low', levelV: lowV, above: false };
  return null;
}

function isInWindow({ minV, maxV }: FixtureFacts, supplyV: number, tolerance: number): boolean {
  return minV !== null && maxV !== null && missOf(supplyV, tolerance, minV, maxV) === null;
}

function checkGroup(run: RunResult, group: TypeGroup, context: LimitContext): Outcome[] {
  const { supplyV } = run;
  const facts = group.members.map((m) => m.facts);
  const first = facts[0];
  if (supplyV === null || first === undefined) return [];
  const ids = idsOf(facts);
  const where = `type ${group.name}, run ${run.run.name}`;
  const { minV, maxV } = first;
  const { supplyTolerancePct } = context.numbers;
  const miss = missOf(
    supplyV,
    supplyTolerancePct / 100,
    minV ?? Number.NEGATIVE_INFINITY,
    maxV ?? Number.POSITIVE_INFINITY,
  );
  const outcomes: Outcome[] = [];
  if (miss?.severity !== 'stop' && (minV === null || maxV === null)) {
    outcomes.push(
      notChecked(
        'Wrong voltage',
        where,
        'the input window of the type',
        ids,
        marksOf(ids, 'supply'),
        group.name,
      ),
    );
  }
  if (miss === null) return outcomes;
  outcomes.push({
    severity: miss.severity,
    part: group.name,
    fixtureIds: ids,
    marks: marksOf(ids, 'supply'),
    value: miss.levelV,
    allowed: miss.above ? maxV : minV,
    unit: 'V',
    level: miss.level,
    message: sayWrongVoltage({
      run: run.run.name,
      type: group.name,
      supplyV,
      levelV: miss.levelV,
      level: miss.level,
      tolerancePct: supplyTolerancePct,
      minV,
      maxV,
      count: ids.length,
      above: miss.above,
      assumed: first.windowAssumed,
    }),
  });
  return outcomes;
}

function check(run: RunResult, context: LimitContext): Outcome[] {
  if (run.supplyV === null) {
    return [
      notChecked(
        'Wrong voltage',
        `run ${run.run.name}`,
        'the supply voltage',
        idsOf(run.facts.slice(0, 1)),
      ),
    ];
  }
  const { supplyV } = run;
  const tolerance = context.numbers.supplyTolerancePct / 100;
  if (run.facts.every((f) => isInWindow(f, supplyV, tolerance))) return [];
  return groupByType(run.facts).flatMap((group) => checkGroup(run, group, context));
}

function remedies(run: RunResult, context: LimitContext): string[] {
  const { supplyV } = run;
  if (supplyV === null) return [];
  const tolerance = context.numbers.supplyTolerancePct / 100;
  const band = `${volts(supplyV * (1 - tolerance))} to ${volts(supplyV * (1 + tolerance))}`;
  return [
    `Order the voltage option whose input window holds ${band}, or feed the run at a voltage inside the window.`,
  ];
}

/** Supply, loaded or not, against the absolute input window of the ordered option. */
export const wrongVoltage: RunLimit = {
  id: 'wrong-voltage',
  title: 'Wrong voltage',
  basis:
    'Input window of the ordered voltage option, from the type; its listing. NEC 110.3(B) or IEC 60364-5-51, verify in the adopted edition.',
  needs: 'supply voltage, input window of the type',
  scope: 'run',
  check,
  remedies,
};
