import { segmentLoopOhm } from '../../electrical/conductor.ts';
import { dropPct, type LevelResult, type RunResult, worstDrop } from '../../solve/run-result.ts';
import type { LimitContext, Outcome, RunLimit } from '../limit.ts';
import {
  idsOf,
  judgeUpper,
  labelOf,
  marksOf,
  notChecked,
  openEnds,
  over,
  whyUnsolved,
} from '../outcome.ts';
import {
  byLeastExcess,
  bySplitting,
  byWiderHomeRun,
  present,
  showDrop,
} from '../remedies/run-remedies.ts';
import { sayBranchDrop } from '../words/power-words.ts';

/** Drop at the head box in percent of the supply: 100·(Vs − |Vs − Z·I|)/Vs, as phasors. */
function homeRunShare(run: RunResult, level: LevelResult): number {
  const { supplyV, headRe, headIm } = level;
  const r = segmentLoopOhm(run.homeRunM, run.homeRunOhmPerKm ?? 0);
  const x = segmentLoopOhm(run.homeRunM, run.homeRunReactanceOhmPerKm);
  const boxV = Math.hypot(supplyV - (r * headRe - x * headIm), r * headIm + x * headRe);
  return (100 * (supplyV - boxV)) / supplyV;
}

function check(run: RunResult, context: LimitContext): Outcome[] {
  const where = `run ${run.run.name}`;
  const unsolved = whyUnsolved(run);
  const worst = run.nominal === null ? null : worstDrop(run.nominal);
  if (unsolved !== null || worst === null || run.nominal === null) {
    return [
      notChecked('Branch drop', where, unsolved?.need ?? 'a solved run', unsolved?.fixtureIds),
    ];
  }
  const { numbers } = context;
  const allowed = numbers.branchDropPct;
  const own = numbers.branchDropBinding ? 'breach' : 'watch';
  const at = (level: LevelResult | null) =>
    level === null ? null : (worstDrop(level)?.dropPct ?? null);
  const judged = judgeUpper(
    { nominal: worst.dropPct, low: at(run.low), high: at(run.high) },
    allowed,
    own,
    numbers.watchShare,
  );
  const outcomes: Outcome[] = [];
  const open = openEnds([run]);
  if (open !== null && !(judged?.broken === true && judged.level === 'nominal')) {
    outcomes.push(notChecked('Branch drop', where, open));
  }
  if (judged === null) return outcomes;
  const level = run[judged.level] ?? run.nominal;
  const broken = run.facts.filter((_, i) => over(dropPct(level, i), allowed));
  const last = run.facts[worst.index];
  const fixtureIds = broken.length > 0 ? idsOf(broken) : last === undefined ? [] : idsOf([last]);
  outcomes.push({
    severity: judged.severity,
    part: '',
    fixtureIds,
    marks: marksOf(fixtureIds, 'drop'),
    value: judged.value,
    allowed,
    unit: '%',
    level: judged.level,
    message: sayBranchDrop({
      run: run.run.name,
      judged,
      allowedPct: allowed,
      tag: labelOf(last),
      places: broken.length,
      homeRunPct: homeRunShare(run, level),
      tolerancePct: numbers.supplyTolerancePct,
      advice: !numbers.branchDropBinding,
      saidBy: context.project.settings.branchDropBinding === null ? 'profile' : 'project',
    }),
  });
  return outcomes;
}

function remedies(run: RunResult, context: LimitContext): string[] {
  const limit = { check };
  return present(
    byWiderHomeRun(limit, run, context, showDrop),
    byLeastExcess(limit, run, context, showDrop),
    bySplitting(limit, run, context, showDrop),
  );
}

/** Drop from the panel to any fixture, home run included. */
export const branchDrop: RunLimit = {
  id: 'branch-drop',
  title: 'Branch drop',
  basis: {
    'north-america':
      'NEC 210.19(A) informational note, advice; CEC 8-102, a rule; the project says which. Verify in the adopted edition.',
    iec: 'IEC 60364-5-52 Annex G: 3 % for lighting on a public supply, verify in the adopted edition.',
  },
  needs: 'home run, and everything that solves the run',
  scope: 'run',
  check,
  remedies,
};
