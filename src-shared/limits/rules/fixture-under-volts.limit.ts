import type { RunResult, SupplyLevel } from '../../solve/run-result.ts';
import type { LimitContext, Outcome, RunLimit } from '../limit.ts';
import { idsOf, labelOf, marksOf, notChecked, openEnds, over, whyUnsolved } from '../outcome.ts';
import {
  byLeastExcess,
  bySplitting,
  byWiderHomeRun,
  present,
  showVolts,
} from '../remedies/run-remedies.ts';
import { sayUnderVolts } from '../words/power-words.ts';
import { groupByType, type TypeGroup } from './type-groups.ts';

const order: readonly SupplyLevel[] = ['nominal', 'low', 'high'];

interface Low {
  readonly level: SupplyLevel;
  readonly voltsV: number;
  readonly index: number;
  readonly below: readonly number[];
}

function lowestAt(run: RunResult, group: TypeGroup, level: SupplyLevel, minV: number): Low | null {
  const solved = run[level];
  if (solved === null) return null;
  let found: Low | null = null;
  const below: number[] = [];
  for (const { index } of group.members) {
    const voltsV = solved.voltsV[index] ?? 0;
    if (over(minV, voltsV)) below.push(index);
    if (found === null || voltsV < found.voltsV) found = { level, voltsV, index, below };
  }
  return found;
}

/** Near: less than a tenth of the room between nominal supply and the minimum is left. */
function isNear(run: RunResult, low: Low, minV: number, watchShare: number): boolean {
  const supplyV = run.supplyV ?? 0;
  return supplyV > minV && over(supplyV - low.voltsV, (supplyV - minV) * watchShare);
}

/** Whether the least volts of the run, at any level, are enough for the fixture that needs most. */
function isWellAbove(run: RunResult, context: LimitContext): boolean {
  let needV = 0;
  for (const { minV } of run.facts) {
    if (minV === null) return false;
    needV = Math.max(needV, minV);
  }
  if (openEnds([run]) !== null || over(needV, run.supplyV ?? 0)) return false;
  return order.every((level) => {
    const solved = run[level];
    const voltsV = solved?.voltsV[solved.leastAt];
    if (voltsV === undefined) return true;
    const low = { level, voltsV, index: 0, below: [] };
    return !over(needV, voltsV) && !isNear(run, low, needV, context.numbers.watchShare);
  });
}

function checkGroup(run: RunResult, group: TypeGroup, context: LimitContext): Outcome[] {
  const facts = group.members.map((m) => m.facts);
  const first = facts[0];
  if (first === undefined) return [];
  const where = `type ${group.name}, run ${run.run.name}`;
  const { minV } = first;
  const title = 'Fixture under volts';
  if (minV === null)
    return [
      notChecked(
        title,
        where,
        'the lowest input voltage of the type',
        idsOf(facts),
        [],
        group.name,
      ),
    ];
  // A supply that is wrong from the start is the wrong-voltage limit's finding, not a drop.
  if (over(minV, run.supplyV ?? 0)) return [];
  const found = order.flatMap((level) => lowestAt(run, group, level, minV) ?? []);
  const broken = found.find((low) => low.below.length > 0);
  const { numbers } = context;
  const near = found.find((low) => isNear(run, low, minV, numbers.watchShare));
  const judged = broken ?? near;
  const lowSupplyAlone = broken?.level === 'low' && over(minV, run.low?.supplyV ?? 0);
  const outcomes: Outcome[] = [];
  const open = openEnds([run]);
  if (open !== null && broken?.level !== 'nominal') {
    outcomes.push(notChecked(title, where, open, idsOf(facts), [], group.name));
  }
  if (judged === undefined || lowSupplyAlone) return outcomes;
  const hit = new Set(broken === undefined ? [judged.index] : judged.below);
  const fixtureIds = idsOf(run.facts.filter((_, i) => hit.has(i)));
  outcomes.push({
    severity: broken?.level === 'nominal' ? 'breach' : 'watch',
    part: group.name,
    fixtureIds,
    marks: marksOf(fixtureIds, 'voltsHere'),
    value: judged.voltsV,
    allowed: minV,
    unit: 'V',
    level: judged.level,
    message: sayUnderVolts({
      run: run.run.name,
      tag: labelOf(run.facts[judged.index]),
      voltsV: judged.voltsV,
      minV,
      level: judged.level,
      tolerancePct: numbers.supplyTolerancePct,
      count: hit.size,
      broken: broken !== undefined,
      assumed: first.windowAssumed,
      type: group.name,
    }),
  });
  return outcomes;
}

function check(run: RunResult, context: LimitContext): Outcome[] {
  const unsolved = whyUnsolved(run);
  if (unsolved !== null) {
    return [
      notChecked('Fixture under volts', `run ${run.run.name}`, unsolved.need, unsolved.fixtureIds),
    ];
  }
  if (isWellAbove(run, context)) return [];
  return groupByType(run.facts).flatMap((group) => checkGroup(run, group, context));
}

function remedies(run: RunResult, context: LimitContext): string[] {
  const limit = { check };
  return present(
    byWiderHomeRun(limit, run, context, showVolts, true),
    byLeastExcess(limit, run, context, showVolts, true),
    bySplitting(limit, run, context, showVolts, true),
  );
}

/** Solved volts at every fixture against the lowest input voltage of its type. */
export const fixtureUnderVolts: RunLimit = {
  id: 'fixture-under-volts',
  title: 'Fixture under volts',
  basis: 'Input window of the ordered voltage option, from the type.',
  needs: 'lowest input voltage of the type, home run, and everything that solves the run',
  scope: 'run',
  check,
  remedies,
};
