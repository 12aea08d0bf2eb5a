/** Ways out that change one run: split it, take fixtures off, wider home run, other pieces. */

import { type RunResult, worstDrop } from '../../solve/run-result.ts';
import { formatConductorSize, parseConductorSize } from '../../units/conductor-size.ts';
import type { LimitContext, RunLimit } from '../limit.ts';
import { amps, length, percent, volts } from '../words/shared-words.ts';
import { holds, splitRun, trialRun } from './trial-run.ts';

type Check = Pick<RunLimit, 'check'>;

/** What to print of a run that was tried. */
export type Show = (run: RunResult, context: LimitContext) => string;

export const showAmps: Show = (run) => amps(run.nominal?.headA ?? 0);
export const showDrop: Show = (run) =>
  percent(run.nominal === null ? 0 : (worstDrop(run.nominal)?.dropPct ?? 0));
export const showLength: Show = (run, context) =>
  length(run.installedTotalM ?? 0, context.project.settings.displayUnit);
export const showVolts: Show = (run) => volts(run.nominal?.voltsV.at(-1) ?? 0);

const mostParts = 8;

/** "Split 6 + 6: 5.17 A, 5.17 A." The fewest parts that hold; null when none do. */
export function bySplitting(
  limit: Check,
  run: RunResult,
  context: LimitContext,
  show: Show,
  lowerBound = false,
): string | null {
  for (let parts = 2; parts <= Math.min(mostParts, run.facts.length); parts += 1) {
    const cut = splitRun(run, context, parts);
    if (!cut.every((part) => holds(limit, part, context, lowerBound))) continue;
    const counts = cut.map((part) => part.facts.length).join(' + ');
    const values = [...new Set(cut.map((part) => show(part, context)))];
    const each = values.length === 1 ? `${values[0]} each` : values.join(', ');
    return `Split the run ${counts}: ${each}, with the home run and lead-in of today.`;
  }
  return null;
}

/** "Take 2 fixtures off the end: 8.67 A (9.15 A at −5 %)." With what one fewer would leave, when that is not enough. */
export function byTakingOff(
  limit: Check,
  run: RunResult,
  context: LimitContext,
  show: Show,
): string | null {
  const members = run.facts.map((f) => f.fixture);
  const without = (off: number) => trialRun(run, context, { members: members.slice(0, -off) });
  // A fixture less at the end never draws more: the fewest that hold are found by halving.
  let broken = 0;
  let off = members.length - 1;
  if (off < 1 || !holds(limit, without(off), context)) return null;
  while (off - broken > 1) {
    const middle = Math.floor((broken + off) / 2);
    if (holds(limit, without(middle), context)) off = middle;
    else broken = middle;
  }
  const less = off === 1 ? '' : notEnough(run, context, off - 1);
  return `Take ${off === 1 ? 'the last fixture' : `the last ${off} fixtures`} off: ${show(without(off), context)}.${less}`;
}

function notEnough(run: RunResult, context: LimitContext, off: number): string {
  const members = run.facts.map((f) => f.fixture);
  const { nominal, low } = trialRun(run, context, { members: members.slice(0, -off) });
  if (nominal === null || low === null) return '';
  const what = off === 1 ? 'One' : `${off}`;
  return ` ${what} off is not enough: ${amps(nominal.headA)} at nominal, ${amps(low.headA)} at low supply.`;
}

const gauges = ['14', '12', '10', '8', '6', '4', '3', '2', '1', '1/0', '2/0', '3/0', '4/0'];
const areas = [1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70];

/** Sizes above a named one, nearest first; empty when the name is not known. */
function widerThan(name: string): string[] {
  const size = parseConductorSize(name);
  if (!size.ok) return [];
  if (size.system === 'awg') {
    const at = gauges.indexOf(size.gauge);
    return at < 0
      ? []
      : gauges.slice(at + 1).map((gauge) => formatConductorSize({ system: 'awg', gauge }));
  }
  const wider = areas.filter((areaMm2) => areaMm2 > size.areaMm2);
  return wider.map((areaMm2) => formatConductorSize({ system: 'mm2', areaMm2 }));
}

/** "A home run of 10 AWG: 2.98 %." The nearest size that holds, at most five steps up. */
export function byWiderHomeRun(
  limit: Check,
  run: RunResult,
  context: LimitContext,
  show: Show,
  lowerBound = false,
): string | null {
  if (!run.homeRunKnown || context.project.settings.exactOhmPerKm !== null) return null;
  const name =
    run.run.homeRunConductor ??
    context.project.settings.homeRunConductor ??
    run.run.conductor ??
    run.line?.conductor ??
    null;
  for (const size of name === null ? [] : widerThan(name).slice(0, 5)) {
    const tried = trialRun(run, context, { run: { homeRunConductor: size } });
    if (holds(limit, tried, context, lowerBound))
      return `A home run of ${size}: ${show(tried, context)}.`;
  }
  return null;
}

/** "Pieces by least excess: 228 ft installed." */
export function byLeastExcess(
  limit: Check,
  run: RunResult,
  context: LimitContext,
  show: Show,
  lowerBound = false,
): string | null {
  if (run.line === null || run.line.pieceChoice === 'least-excess') return null;
  const tried = trialRun(run, context, { line: { pieceChoice: 'least-excess' } });
  // Other pieces of the same length in all are no way out.
  if (tried.installedTotalM === run.installedTotalM) return null;
  return holds(limit, tried, context, lowerBound)
    ? `Stock pieces by least excess: ${show(tried, context)}.`
    : null;
}

export function present(...remedies: readonly (string | null)[]): string[] {
  return remedies.filter((remedy) => remedy !== null);
}
