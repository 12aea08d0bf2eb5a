import type { RunResult } from '../../solve/run-result.ts';
import type { LimitContext, Outcome, RunLimit } from '../limit.ts';
import {
  idsOf,
  judgeUpper,
  type LevelValues,
  marksOf,
  notChecked,
  openEnds,
  over,
  whyUnsolved,
} from '../outcome.ts';
import { bySplitting, byTakingOff, present, showAmps } from '../remedies/run-remedies.ts';
import { sayLineRating } from '../words/power-words.ts';
import { loadsInWords } from './run-loads.ts';

function headAmps(run: RunResult): LevelValues | null {
  if (run.nominal === null) return null;
  return { nominal: run.nominal.headA, low: run.low?.headA ?? null, high: run.high?.headA ?? null };
}

function check(run: RunResult, context: LimitContext): Outcome[] {
  const where = `run ${run.run.name}`;
  const ratingA = run.line?.ratingA ?? null;
  if (ratingA === null) return [notChecked('Line rating', where, 'the rating of the line')];
  const unsolved = whyUnsolved(run);
  const values = headAmps(run);
  if (unsolved !== null || values === null) {
    return [
      notChecked('Line rating', where, unsolved?.need ?? 'a solved run', unsolved?.fixtureIds),
    ];
  }
  const { numbers } = context;
  const judged = judgeUpper(values, ratingA, 'stop', numbers.watchShare);
  const outcomes: Outcome[] = [];
  const open = openEnds([run]);
  if (open !== null && judged?.severity !== 'stop') {
    outcomes.push(notChecked('Line rating', where, open));
  }
  if (judged === null) return outcomes;
  const level = run[judged.level];
  const through = level?.throughA ?? [];
  const carrying = idsOf(run.facts.filter((_, i) => over(through[i] ?? 0, ratingA)));
  const fixtureIds = carrying.length > 0 ? carrying : idsOf(run.facts.slice(0, 1));
  outcomes.push({
    severity: judged.severity,
    part: '',
    fixtureIds,
    marks: marksOf(fixtureIds, 'throughCurrent'),
    value: judged.value,
    allowed: ratingA,
    unit: 'A',
    level: judged.level,
    message: sayLineRating({
      run: run.run.name,
      judged,
      values,
      ratingA,
      line: run.line?.name ?? '',
      tolerancePct: numbers.supplyTolerancePct,
      loads: loadsInWords(run),
    }),
  });
  return outcomes;
}

function remedies(run: RunResult, context: LimitContext): string[] {
  const limit = { check };
  return present(
    bySplitting(limit, run, context, showAmps),
    byTakingOff(limit, run, context, showAmps),
  );
}

/** Amps in the first segment against the line's rating (the weakest part of the assembly). */
export const lineRating: RunLimit = {
  id: 'line-rating',
  title: 'Line rating',
  basis:
    'Listing of the line: rated current. NEC 110.3(B) or IEC 60364-5-51, verify in the adopted edition.',
  needs: 'line rating, home run, and everything that solves the run',
  scope: 'run',
  check,
  remedies,
};
