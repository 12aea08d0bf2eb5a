import type { Line } from '../../document/project.ts';
import { cableSoFarM, type RunResult } from '../../solve/run-result.ts';
import type { LimitContext, Outcome, RunLimit } from '../limit.ts';
import { idsOf, marksOf, notChecked, over } from '../outcome.ts';
import { byLeastExcess, bySplitting, present, showLength } from '../remedies/run-remedies.ts';
import { sayRunLength } from '../words/power-words.ts';
import { ratedVolts } from '../words/shared-words.ts';

/** Listed length of a line at a voltage; null where the table does not list it. */
export function listedLengthM(line: Line | null, supplyV: number): number | null {
  if (line === null) return null;
  const row = line.lengthLimits.find((limit) => Math.abs(limit.supplyV - supplyV) < 0.5);
  return row?.maxLengthM ?? line.maxLengthM;
}

function pastLimit(run: RunResult, allowedM: number): string[] {
  return idsOf(run.facts.filter((_, i) => over(cableSoFarM(run, i) ?? 0, allowedM)));
}

function check(run: RunResult, context: LimitContext): Outcome[] {
  const where = `run ${run.run.name}`;
  const title = 'Run length';
  if (run.supplyV === null) return [notChecked(title, where, 'the supply voltage')];
  const allowedM = listedLengthM(run.line, run.supplyV);
  if (allowedM === null) {
    const need =
      run.line === null
        ? 'the line'
        : `the listed length of line ${run.line.name} at ${ratedVolts(run.supplyV)}`;
    return [notChecked(title, where, need)];
  }
  const installedM = run.installedTotalM;
  if (installedM === null) {
    const lacking = idsOf(run.facts.filter((_, i) => run.installedM[i] === null));
    return [notChecked(title, where, 'every span', lacking, marksOf(lacking, 'span'))];
  }
  const broken = over(installedM, allowedM);
  if (!broken && !over(installedM, allowedM * context.numbers.watchShare)) return [];
  const fixtureIds = broken ? pastLimit(run, allowedM) : idsOf(run.facts.slice(-1));
  return [
    {
      severity: broken ? 'stop' : 'watch',
      part: '',
      fixtureIds,
      marks: marksOf(fixtureIds, 'cableSoFar'),
      value: installedM,
      allowed: allowedM,
      unit: 'm',
      level: null,
      message: sayRunLength({
        run: run.run.name,
        installedM,
        drawnM: run.drawnTotalM ?? installedM,
        allowedM,
        supplyV: run.supplyV,
        unit: context.project.settings.displayUnit,
        broken,
        line: run.line?.name ?? '',
      }),
    },
  ];
}

function remedies(run: RunResult, context: LimitContext): string[] {
  const limit = { check };
  return present(
    byLeastExcess(limit, run, context, showLength),
    bySplitting(limit, run, context, showLength),
  );
}

/** Installed length, head box to last fixture, against the length listed for the voltage. */
export const runLength: RunLimit = {
  id: 'run-length',
  title: 'Run length',
  basis:
    'Listing of the line: length at this voltage. NEC 110.3(B) or IEC 60364-5-51, verify in the adopted edition.',
  needs: 'supply voltage, listed length at it, every span',
  scope: 'run',
  check,
  remedies,
};
