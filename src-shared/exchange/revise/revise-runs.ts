/** Runs and circuits after a revision: the engineer's names, locks and edits stay. */
import { freeId } from '../../document/edit-cell.ts';
import type { Circuit, Fixture, Project, Run } from '../../document/project.ts';
import { looseKey } from '../schedule/cell-text.ts';
import type { Difference } from './difference.ts';
import { reviseFields, same } from './three-way.ts';

const runFields = [
  'supplyV',
  'line',
  'conductor',
  'homeRunM',
  'leadInM',
  'homeRunConductor',
  'dataOutput',
] as const;
const circuitFields = ['panel', 'name', 'breakerA', 'protection'] as const;

type Tables = Pick<Project, 'runs' | 'circuits'>;

export interface RevisedRuns extends Tables {
  readonly differences: readonly Difference[];
}

/** A circuit by what stands on the panel; null: it has no name, one run alone. */
function keyOf({ panel, name }: Circuit): string | null {
  if (name === null) return null;
  const circuit = looseKey(name).replace(/\s*[,/+&;]\s*/gu, ',');
  return JSON.stringify([looseKey(panel ?? ''), circuit]);
}

function shown({ panel, name, id }: Circuit): string {
  return name === null ? id : panel === null ? name : `${panel} ${name}`;
}

/** Names of runs in the project by their names in the file, where the engineer has renamed them. */
export function renamedRuns(
  base: readonly Run[],
  current: readonly Run[],
  currentOf: ReadonlyMap<Fixture, Fixture>,
): ReadonlyMap<string, string> {
  const names = new Map<string, string>();
  const now = new Set(current.map(({ name }) => name));
  const before = new Set(base.map(({ name }) => name));
  const seen = new Map<string, Set<string | null>>();
  for (const [was, has] of currentOf) {
    if (was.run === null || now.has(was.run)) continue;
    const set = seen.get(was.run) ?? new Set();
    seen.set(was.run, set.add(has.run));
  }
  for (const [name, set] of seen) {
    const [only] = set;
    if (set.size === 1 && typeof only === 'string' && !before.has(only)) names.set(name, only);
  }
  return names;
}

class RunReviser {
  readonly differences: Difference[] = [];
  private readonly circuits: Map<string, Circuit>;

  constructor(
    private readonly base: Tables,
    private readonly current: Tables,
    private readonly revised: Tables,
    private readonly nameInProject: (name: string) => string,
    private readonly isUsed: (run: string) => boolean,
  ) {
    this.circuits = new Map(current.circuits.map((circuit) => [circuit.id, circuit]));
  }

  revise(): RevisedRuns {
    const before = byName(this.base.runs);
    const after = byName(this.revised.runs);
    const inFile = new Map([...before, ...after].map(([name]) => [this.nameInProject(name), name]));
    const runs: Run[] = [];
    const has = new Set<string>();
    for (const run of this.current.runs) {
      has.add(run.name);
      const name = inFile.get(run.name) ?? run.name;
      const [was, now] = [before.get(name), after.get(name)];
      if (now !== undefined) runs.push(this.run(was ?? null, run, now));
      else if (was === undefined || run.locks.length > 0 || this.isUsed(run.name)) runs.push(run);
      else this.tell('removed', run.name, run.name, null);
    }
    for (const run of this.revised.runs) {
      const name = this.nameInProject(run.name);
      // One the engineer has taken out comes back only with a fixture that is on it.
      if (has.has(name) || (before.has(run.name) && !this.isUsed(name))) continue;
      runs.push({ ...run, name, circuitId: this.circuitFor(run, null) });
      this.tell('added', name, null, name);
    }
    const used = new Set(runs.map((run) => run.circuitId));
    const circuits = [...this.circuits.values()].filter(({ id }) => used.has(id) || this.isOwn(id));
    return { runs, circuits, differences: this.differences };
  }

  private tell(kind: 'added' | 'removed', name: string, was: unknown, now: unknown): void {
    const said = { table: 'runs', key: name, name, field: null, column: null } as const;
    this.differences.push({ ...said, kind, was, now, note: '' });
  }

  /** A circuit that stood without a run before stays so. */
  private isOwn(id: string): boolean {
    const stood = this.current.circuits.some((circuit) => circuit.id === id);
    return stood && !this.current.runs.some((run) => run.circuitId === id);
  }

  private run(base: Run | null, current: Run, revised: Run): Run {
    const locked = new Set(current.locks);
    const { record, differences } = reviseFields<Run>(runFields, {
      table: 'runs',
      key: current.name,
      name: current.name,
      base: base ?? current,
      current,
      revised,
      isLocked: (column) => locked.has(column),
    });
    this.differences.push(...differences);
    return { ...record, circuitId: this.circuitOf(base, current, revised) };
  }

  /** The circuit of a run: the same with its new values, or another one. */
  private circuitOf(base: Run | null, current: Run, revised: Run): string {
    const was = base === null ? undefined : circuitOf(this.base, base);
    const now = circuitOf(this.revised, revised);
    const has = this.circuits.get(current.circuitId);
    if (was === undefined || now === undefined || has === undefined) return current.circuitId;
    const locked = this.lockedOn(current);
    const moved = keyOf(was) !== keyOf(now) && !this.movedTogether(was, now);
    if (!moved) {
      this.reviseCircuit(was, has, now, locked);
      return current.circuitId;
    }
    const said = {
      table: 'runs',
      key: current.name,
      name: current.name,
      field: 'circuitId',
      column: 'circuit',
      was: shown(has),
      now: shown(now),
    } as const;
    if (keyOf(has) === keyOf(now)) return current.circuitId;
    if (locked.has('circuit') || locked.has('panel')) {
      this.differences.push({ ...said, kind: 'locked', note: 'locked: it stays' });
      return current.circuitId;
    }
    if (keyOf(has) !== keyOf(was)) {
      const note = 'you have changed it too: yours stays';
      this.differences.push({ ...said, kind: 'conflict', note });
      return current.circuitId;
    }
    this.differences.push({ ...said, kind: 'changed', note: '' });
    return this.circuitFor(revised, has);
  }

  /** Locks of all runs on the circuit of a run: its values are theirs too. */
  private lockedOn(run: Run): ReadonlySet<string> {
    const runs = this.current.runs.filter((other) => other.circuitId === run.circuitId);
    return new Set(runs.flatMap((other) => other.locks));
  }

  /** All runs of a circuit stand on one circuit again: it has another name now. */
  private movedTogether(was: Circuit, now: Circuit): boolean {
    const names = (tables: Tables, id: string) =>
      tables.runs.filter((run) => run.circuitId === id).map((run) => run.name);
    return same(names(this.base, was.id), names(this.revised, now.id));
  }

  private reviseCircuit(
    was: Circuit,
    has: Circuit,
    now: Circuit,
    locked: ReadonlySet<string>,
  ): void {
    const { record, differences } = reviseFields<Circuit>(circuitFields, {
      table: 'circuits',
      key: has.id,
      name: shown(has),
      base: was,
      current: has,
      revised: now,
      isLocked: (column) => locked.has(column),
    });
    for (const difference of differences) {
      // Several runs of one circuit say it once.
      if (!this.differences.some((other) => same(other, difference)))
        this.differences.push(difference);
    }
    this.circuits.set(has.id, record);
  }

  /** The circuit of the project that a run of the file is on, made where there is none. */
  private circuitFor(run: Run, leaves: Circuit | null): string {
    const wanted = circuitOf(this.revised, run);
    const key = wanted === undefined ? null : keyOf(wanted);
    const known = [...this.circuits.values()].find(
      (circuit) => key !== null && keyOf(circuit) === key && circuit !== leaves,
    );
    if (known !== undefined) return known.id;
    const id = freeId('c', this.circuits.keys());
    const blank = { panel: null, name: null, breakerA: null, protection: null };
    this.circuits.set(id, { ...blank, ...wanted, id });
    return id;
  }
}

function byName(runs: readonly Run[]): Map<string, Run> {
  return new Map(runs.map((run) => [run.name, run]));
}

function circuitOf({ circuits }: Tables, run: Run): Circuit | undefined {
  return circuits.find((circuit) => circuit.id === run.circuitId);
}

/**
 * Runs and circuits of the project with what the revised file changed. `nameInProject` gives the name
 * the engineer has given a run of the file; `isUsed` says whether a fixture is on a run afterwards.
 */
export function reviseRuns(
  base: Tables,
  current: Tables,
  revised: Tables,
  nameInProject: (name: string) => string,
  isUsed: (run: string) => boolean,
): RevisedRuns {
  return new RunReviser(base, current, revised, nameInProject, isUsed).revise();
}
