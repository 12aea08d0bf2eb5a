import type { Finding } from '../limits/finding.ts';
import { limits } from '../limits/registry.ts';
import type { EngineSession } from './engine-session.ts';

/** Ways out of a finding, each tried through the engine. Empty for what only a missing value can settle. */
export function remediesFor(finding: Finding, session: EngineSession): readonly string[] {
  if (finding.severity === 'not-checked') return [];
  const limit = limits.find((l) => l.id === finding.limit);
  if (limit === undefined) return [];
  const { context } = session;
  switch (limit.scope) {
    case 'run': {
      const run = session.runs.get(finding.scope);
      return run === undefined ? [] : limit.remedies(run, context, finding);
    }
    case 'circuit': {
      const circuit = session.circuitOf(finding.scope);
      return circuit === null ? [] : limit.remedies(circuit, context, finding);
    }
    case 'output': {
      const output = session.outputOf(finding.scope);
      return output === null ? [] : limit.remedies(output, context, finding);
    }
    case 'universe':
      return limit.remedies(session.universeOf(Number(finding.scope)), context, finding);
    case 'project':
      return limit.remedies(context, finding);
  }
}
