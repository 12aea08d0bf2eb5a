import type { RunResult } from '../solve/run-result.ts';

/** Keys of circuits and outputs whose list of runs is another now. */
export interface Regrouped {
  readonly circuits: ReadonlySet<string>;
  readonly outputs: ReadonlySet<string>;
}

/** Which runs hang on which circuit and data output, by name, in order of first run. */
export class RunGroups {
  private byCircuit = new Map<string, string[]>();
  private byOutput = new Map<string, string[]>();

  get circuits(): ReadonlyMap<string, readonly string[]> {
    return this.byCircuit;
  }

  get outputs(): ReadonlyMap<string, readonly string[]> {
    return this.byOutput;
  }

  regroup(results: ReadonlyMap<string, RunResult>): Regrouped {
    const [circuits, outputs] = [new Map<string, string[]>(), new Map<string, string[]>()];
    for (const [name, { run }] of results) {
      add(circuits, run.circuitId, name);
      add(outputs, outputKey(run.dataOutput, name), name);
    }
    const changed = {
      circuits: differing(this.byCircuit, circuits),
      outputs: differing(this.byOutput, outputs),
    };
    this.byCircuit = circuits;
    this.byOutput = outputs;
    return changed;
  }
}

/** Key of a data output: `output:NAME` where it is stated, else one of the run's own, `run:NAME`. */
export function outputKey(dataOutput: string | null, run: string): string {
  return dataOutput === null ? `run:${run}` : `output:${dataOutput}`;
}

function differing(
  before: ReadonlyMap<string, readonly string[]>,
  now: ReadonlyMap<string, readonly string[]>,
): Set<string> {
  const changed = new Set<string>();
  for (const [key, names] of before) {
    const list = now.get(key);
    if (list?.length !== names.length || list.some((name, i) => name !== names[i]))
      changed.add(key);
  }
  for (const key of now.keys()) if (!before.has(key)) changed.add(key);
  return changed;
}

function add(map: Map<string, string[]>, key: string, name: string): void {
  const list = map.get(key);
  // A list of one is the rule for outputs: it takes no room to spare.
  if (list === undefined) map.set(key, [name]);
  else list.push(name);
}
