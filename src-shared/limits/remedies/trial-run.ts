/** Runs as they would be, solved by the same engine. Nothing here changes the document. */
import type { Fixture, Line, Project, Run } from '../../document/project.ts';
import { nameKey } from '../../solve/fixture-facts.ts';
import type { RunResult } from '../../solve/run-result.ts';
import { solveRun } from '../../solve/solve-run.ts';
import type { LimitContext, Outcome, RunLimit } from '../limit.ts';

export interface TrialChange {
  readonly run?: Partial<Run>;
  readonly line?: Partial<Line>;
  readonly settings?: Partial<Project['settings']>;
  readonly members?: readonly Fixture[];
}

/** The run solved with something changed. */
export function trialRun(base: RunResult, context: LimitContext, change: TrialChange): RunResult {
  const run = { ...base.run, ...change.run };
  const members = change.members ?? base.facts.map((f) => f.fixture);
  const project = {
    ...context.project,
    settings: { ...context.project.settings, ...change.settings },
  };
  if (change.line === undefined || base.line === null)
    return solveRun(project, context.index, run, members);
  const line = { ...base.line, ...change.line };
  const lines = new Map(context.index.lines).set(nameKey(line.name), line);
  const index = {
    ...context.index,
    lines,
    defaultLine: context.index.defaultLine === null ? null : line,
  };
  return solveRun(project, index, { ...run, line: line.name }, members);
}

/** True when a value stands over what is allowed, or below what is needed at least. */
function isBroken(outcome: Outcome, lowerBound: boolean): boolean {
  if (outcome.severity === 'not-checked') return true;
  if (outcome.severity === 'stop' || outcome.severity === 'breach') return true;
  if (outcome.value === null || outcome.allowed === null) return false;
  return lowerBound
    ? outcome.value < outcome.allowed
    : outcome.value > outcome.allowed * (1 + 1e-9);
}

/** A remedy counts only if the limit then holds at low, nominal and high supply. */
export function holds(
  limit: Pick<RunLimit, 'check'>,
  run: RunResult,
  context: LimitContext,
  lowerBound = false,
): boolean {
  return !limit.check(run, context).some((outcome) => isBroken(outcome, lowerBound));
}

/** The run cut into `parts` chains of as equal a count as can be, each with the lead-in and home run it has today. */
export function splitRun(base: RunResult, context: LimitContext, parts: number): RunResult[] {
  const members = base.facts.map((f) => f.fixture);
  const leadInM = base.spanM[0] ?? null;
  const laidLeadInM = members[0]?.installedM ?? null;
  const cut: RunResult[] = [];
  let from = 0;
  for (let part = 0; part < parts; part += 1) {
    const to = from + Math.ceil((members.length - from) / (parts - part));
    const chain = members.slice(from, to).map((f, i) => ({
      ...f,
      place: i + 1,
      installedM: i === 0 ? laidLeadInM : f.installedM,
    }));
    cut.push(trialRun(base, context, { members: chain, run: { leadInM } }));
    from = to;
  }
  return cut;
}
