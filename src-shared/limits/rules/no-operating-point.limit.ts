import type { RunResult } from '../../solve/run-result.ts';
import type { LimitContext, Outcome, RunLimit } from '../limit.ts';
import { idsOf, marksOf, notChecked, plainOutcome } from '../outcome.ts';
import { bySplitting, byWiderHomeRun, present, showVolts } from '../remedies/run-remedies.ts';
import { sayNoOperatingPoint } from '../words/power-words.ts';

function check(run: RunResult, context: LimitContext): Outcome[] {
  const where = `run ${run.run.name}`;
  if (run.solved === null || run.supplyV === null) {
    const need = run.needs.map((n) => n.what).join(', ') || 'readable loads';
    const fixtureIds = [...new Set(run.needs.flatMap((n) => n.fixtureIds))];
    return [notChecked('No operating point', where, need, fixtureIds)];
  }
  const lowOnly = run.solved;
  if (lowOnly && run.low !== null) {
    return run.homeRunKnown ? [] : [notChecked('No operating point', where, 'the home run length')];
  }
  const ids = idsOf(run.facts);
  const { supplyTolerancePct } = context.numbers;
  const message = sayNoOperatingPoint({
    run: run.run.name,
    lowOnly,
    tolerancePct: supplyTolerancePct,
    supplyV: run.supplyV,
    fixtures: ids.length,
  });
  const outcome = plainOutcome(
    lowOnly ? 'breach' : 'stop',
    '',
    ids,
    marksOf(ids, 'voltsHere'),
    message,
  );
  return [{ ...outcome, level: lowOnly ? 'low' : 'nominal' }];
}

function remedies(run: RunResult, context: LimitContext): string[] {
  const limit = { check };
  return present(
    bySplitting(limit, run, context, showVolts),
    byWiderHomeRun(limit, run, context, showVolts),
  );
}

/** No operating point at nominal supply is a stop, only at low supply a breach. */
export const noOperatingPoint: RunLimit = {
  id: 'no-operating-point',
  title: 'No operating point',
  basis:
    'Physics: constant-power loads behind an impedance; one load at unity power factor needs V² ≥ 4·R·P.',
  needs: 'everything that solves the run',
  scope: 'run',
  check,
  remedies,
};
