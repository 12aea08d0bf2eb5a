import type { CircuitResult } from './limit.ts';

/** "LP-R 1,3", or the run's name where no circuit is stated. */
export function circuitName({ circuit, runs }: CircuitResult): string {
  if (circuit.name !== null) {
    return circuit.panel === null ? `circuit ${circuit.name}` : `${circuit.panel} ${circuit.name}`;
  }
  const names = runs.map((run) => run.run.name).join(', ');
  return `circuit of run ${names}`;
}

/** The run a circuit's finding belongs to; null when it has several. */
export function onlyRun({ runs }: { readonly runs: CircuitResult['runs'] }): string | null {
  return runs.length === 1 ? (runs[0]?.run.name ?? null) : null;
}
