import type { ColumnId } from '../columns/column-table.ts';
import type { FixtureFacts } from '../solve/fixture-facts.ts';
import type { RunResult, SupplyLevel } from '../solve/run-result.ts';
import type { Mark, Outcome, Severity } from './limit.ts';
import { sayNotChecked } from './words/not-checked-words.ts';

/** Arithmetic dust that must not turn a value at its limit into one over it. */
const dust = 1e-9;

export function over(value: number, allowed: number): boolean {
  return value > allowed + Math.abs(allowed) * dust;
}

export interface LevelValues {
  readonly nominal: number;
  readonly low: number | null;
  readonly high: number | null;
}

export interface Judgement {
  readonly severity: Severity;
  readonly level: SupplyLevel;
  readonly value: number;
  /** Broken, not only near. */
  readonly broken: boolean;
}

/**
 * Supply levels as in the vocabulary: broken at nominal gives the limit's own severity; broken only
 * at low or high supply a watch; over `watchShare` of the allowed at any level a watch; else null.
 */
export function judgeUpper(
  values: LevelValues,
  allowed: number,
  own: Severity,
  watchShare: number,
): Judgement | null {
  const { nominal } = values;
  if (over(nominal, allowed))
    return { severity: own, level: 'nominal', value: nominal, broken: true };
  const low = values.low ?? Number.NEGATIVE_INFINITY;
  const high = values.high ?? Number.NEGATIVE_INFINITY;
  const [level, value]: [SupplyLevel, number] = high > low ? ['high', high] : ['low', low];
  if (over(value, allowed)) return { severity: 'watch', level, value, broken: true };
  if (over(nominal, allowed * watchShare)) {
    return { severity: 'watch', level: 'nominal', value: nominal, broken: false };
  }
  if (over(value, allowed * watchShare)) return { severity: 'watch', level, value, broken: false };
  return null;
}

export function marksOf(fixtureIds: readonly string[], ...marked: readonly ColumnId[]): Mark[] {
  return fixtureIds.flatMap((fixtureId) => marked.map((column) => ({ fixtureId, column })));
}

export function idsOf(facts: readonly FixtureFacts[]): string[] {
  return facts.map((f) => f.fixture.id);
}

/** The first fixture of each of these runs. */
export function firstsOf(runs: readonly RunResult[]): string[] {
  const ids: string[] = [];
  for (const { facts } of runs) if (facts[0] !== undefined) ids.push(facts[0].id);
  return ids;
}

/** How a fixture is called in a sentence. */
export function labelOf(facts: FixtureFacts | undefined): string {
  if (facts === undefined) return 'unknown fixture';
  const { tag, origin } = facts.fixture;
  return tag ?? (origin === null ? 'fixture without tag' : `row ${origin.row} (no tag)`);
}

/** An outcome without numbers. */
export function plainOutcome(
  severity: Severity,
  part: string,
  fixtureIds: readonly string[],
  marks: readonly Mark[],
  message: string,
): Outcome {
  return {
    severity,
    part,
    fixtureIds,
    marks,
    message,
    value: null,
    allowed: null,
    unit: null,
    level: null,
  };
}

/** "Not checked": what is missing, and of which fixtures. */
export function notChecked(
  title: string,
  where: string,
  need: string,
  fixtureIds: readonly string[] = [],
  marks: readonly Mark[] = [],
  part = '',
): Outcome {
  return plainOutcome('not-checked', part, fixtureIds, marks, sayNotChecked(title, where, need));
}

/** Why a run's solved numbers cannot be judged; null when they can. */
export function whyUnsolved(
  run: RunResult,
): { need: string; fixtureIds: readonly string[] } | null {
  if (run.solved === false) return { need: 'an operating point', fixtureIds: [] };
  if (run.solved === null) {
    const fixtureIds = [...new Set(run.needs.flatMap((n) => n.fixtureIds))];
    return { need: run.needs.map((n) => n.what).join(', ') || 'readable loads', fixtureIds };
  }
  return null;
}

/**
 * What keeps a solved run from being judged whole; null when nothing does. Without the home run
 * drop and amps can only be greater; without an operating point at low supply that level is open.
 */
export function openEnds(runs: readonly RunResult[]): string | null {
  let [homeRun, low] = [true, true];
  for (const run of runs) {
    homeRun &&= run.homeRunKnown;
    low &&= run.solved !== true || run.low !== null;
  }
  if (homeRun && low) return null;
  const ends: string[] = [];
  if (!homeRun) ends.push('the home run length');
  if (!low) ends.push('an operating point at low supply');
  return ends.join(' and ');
}
