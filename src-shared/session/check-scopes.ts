/** Runs the registry's limits over one scope and makes the findings. */
import { circuitName, onlyRun } from '../limits/circuit-name.ts';
import { type Finding, findingOf } from '../limits/finding.ts';
import type {
  CircuitLimit,
  CircuitResult,
  Limit,
  LimitContext,
  Outcome,
  OutputLimit,
  OutputResult,
  ProjectLimit,
  RunLimit,
  UniverseLimit,
  UniverseResult,
} from '../limits/limit.ts';
import { limits } from '../limits/registry.ts';
import type { FixtureFacts } from '../solve/fixture-facts.ts';
import type { RunResult } from '../solve/run-result.ts';

const runLimits = limits.filter((limit): limit is RunLimit => limit.scope === 'run');
const circuitLimits = limits.filter((limit): limit is CircuitLimit => limit.scope === 'circuit');
const outputLimits = limits.filter((limit): limit is OutputLimit => limit.scope === 'output');
const universeLimits = limits.filter((limit): limit is UniverseLimit => limit.scope === 'universe');
const projectLimits = limits.filter((limit): limit is ProjectLimit => limit.scope === 'project');

/** What one limit found in one scope, added to the findings. */
function add(
  findings: Finding[],
  limit: Limit,
  outcomes: readonly Outcome[],
  scope: string,
  shown: string,
  run: string | null,
  { project }: LimitContext,
): void {
  for (const outcome of outcomes) {
    findings.push(findingOf(limit, outcome, scope, shown, run, project.settings.profile));
  }
}

export function checkRun(run: RunResult, context: LimitContext): Finding[] {
  const findings: Finding[] = [];
  const { name } = run.run;
  for (const limit of runLimits) {
    add(findings, limit, limit.check(run, context), name, name, name, context);
  }
  return findings;
}

export function checkCircuit(circuit: CircuitResult, context: LimitContext): Finding[] {
  const findings: Finding[] = [];
  const scope = circuitName(circuit);
  const run = onlyRun(circuit);
  for (const limit of circuitLimits) {
    const outcomes = limit.check(circuit, context);
    add(findings, limit, outcomes, circuit.circuit.id, scope, run, context);
  }
  return findings;
}

export function checkOutput(output: OutputResult, context: LimitContext): Finding[] {
  const findings: Finding[] = [];
  const run = onlyRun(output);
  const shown = output.assumed ? output.name : `output ${output.name}`;
  for (const limit of outputLimits) {
    add(findings, limit, limit.check(output, context), output.key, shown, run, context);
  }
  return findings;
}

export function checkUniverse(universe: UniverseResult, context: LimitContext): Finding[] {
  const findings: Finding[] = [];
  const scope = String(universe.universe);
  for (const limit of universeLimits) {
    for (const outcome of limit.check(universe, context)) {
      const run = runOf(outcome.fixtureIds, universe.facts);
      add(findings, limit, [outcome], scope, scope, run, context);
    }
  }
  return findings;
}

export function checkProject(context: LimitContext): Finding[] {
  const findings: Finding[] = [];
  for (const limit of projectLimits) {
    for (const outcome of limit.check(context)) {
      const run = runOf(outcome.fixtureIds, context.allFacts());
      add(findings, limit, [outcome], '', '', run, context);
    }
  }
  return findings;
}

/** The one run all these fixtures are on; null when there are several or none. */
function runOf(fixtureIds: readonly string[], facts: readonly FixtureFacts[]): string | null {
  const wanted = new Set(fixtureIds);
  const runs = new Set<string | null>();
  for (const { fixture } of facts) if (wanted.has(fixture.id)) runs.add(fixture.run);
  const [only] = runs;
  return runs.size === 1 ? (only ?? null) : null;
}
