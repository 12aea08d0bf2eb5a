import type { Circuit, Project } from './project.ts';

/** The records that are in `before` and no longer in `after`, by key. */
function goneFrom<R>(
  before: readonly R[],
  after: readonly R[],
  key: (record: R) => string,
): Map<string, R> {
  const gone = new Map(before.map((record) => [key(record), record]));
  for (const record of after) gone.delete(key(record));
  return gone;
}

function named({ panel, name, id }: Circuit): string {
  if (name === null) return `the circuit ${id}`;
  return panel === null ? `circuit ${name}` : `circuit ${panel} ${name}`;
}

function counted(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}

/**
 * Why `after` cannot stand: a circuit or run that went while a run or fixture is still on it. null
 * when none is. Looks only at tables that are others now.
 */
export function whyStillUsed(before: Project, after: Project): string | null {
  if (before.circuits !== after.circuits) {
    const gone = goneFrom(before.circuits, after.circuits, (circuit) => circuit.id);
    const run = gone.size === 0 ? undefined : after.runs.find((r) => gone.has(r.circuitId));
    const circuit = run === undefined ? undefined : gone.get(run.circuitId);
    if (run !== undefined && circuit !== undefined) {
      return `Run ${run.name} is still on ${named(circuit)}. Move the run to another circuit or remove it first.`;
    }
  }
  if (before.runs !== after.runs) {
    const gone = goneFrom(before.runs, after.runs, (run) => run.name);
    const onGone = (name: string | null) => name !== null && gone.has(name);
    const first = gone.size === 0 ? undefined : after.fixtures.find((f) => onGone(f.run));
    if (first !== undefined) {
      const count = after.fixtures.filter((f) => f.run === first.run).length;
      return `${counted(count, 'fixture')} ${count === 1 ? 'is' : 'are'} still on run ${first.run}. Move or remove ${count === 1 ? 'it' : 'them'} first.`;
    }
  }
  return null;
}
