/** Runs the registry's limits over one scope and makes the findings. */
import { circuitName, onlyRun } from '../limits/circuit-name.ts';
import { type Finding, findingOf } from '../limits/finding.ts';
import type {
  CircuitLimit,
  CircuitResult,
  LimitContext,
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

export function checkRun(run: RunResult, context: LimitContext): Finding[] {
  const { name } = run.run;
  const { profile } = context.project.settings;
  return runLimits.flatMap((limit) =>
    limit
      .check(run, context)
      .map((outcome) => findingOf(limit, outcome, name, name, name, profile)),
  );
}

export function checkCircuit(circuit: CircuitResult, context: LimitContext): Finding[] {
  const scope = circuitName(circuit);
  const run = onlyRun(circuit);
  const { profile } = context.project.settings;
  return circuitLimits.flatMap((limit) =>
    limit
      .check(circuit, context)
      .map((outcome) => findingOf(limit, outcome, circuit.circuit.id, scope, run, profile)),
  );
}

export function checkOutput(output: OutputResult, context: LimitContext): Finding[] {
  const run = onlyRun(output);
  const shown = output.assumed ? output.name : `output ${output.name}`;
  const { profile } = context.project.settings;
  return outputLimits.flatMap((limit) =>
    limit
      .check(output, context)
      .map((outcome) => findingOf(limit, outcome, output.key, shown, run, profile)),
  );
}

export function checkUniverse(universe: UniverseResult, context: LimitContext): Finding[] {
  const { profile } = context.project.settings;
  const scope = String(universe.universe);
  return universeLimits.flatMap((limit) =>
    limit.check(universe, context).map((outcome) => {
      const run = runOf(outcome.fixtureIds, universe.facts);
      return findingOf(limit, outcome, scope, scope, run, profile);
    }),
  );
}

export function checkProject(context: LimitContext): Finding[] {
  const { profile } = context.project.settings;
  return projectLimits.flatMap((limit) =>
    limit.check(context).map((outcome) => {
      const run = runOf(outcome.fixtureIds, context.allFacts());
      return findingOf(limit, outcome, '', '', run, profile);
    }),
  );
}

/** The one run all these fixtures are on; null when there are several or none. */
function runOf(fixtureIds: readonly string[], facts: readonly FixtureFacts[]): string | null {
  const wanted = new Set(fixtureIds);
  const runs = new Set<string | null>();
  for (const { fixture } of facts) if (wanted.has(fixture.id)) runs.add(fixture.run);
  const [only] = runs;
  return runs.size === 1 ? (only ?? null) : null;
}
