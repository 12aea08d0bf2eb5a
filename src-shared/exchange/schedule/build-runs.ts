/** Runs and circuits from the rows that state their values, and what rows say otherwise. */
import { blankCircuit, blankRun } from '../../document/blank.ts';
import type { Circuit, Run, RunField, RunStatement } from '../../document/project.ts';
import { looseKey } from './cell-text.ts';
import type { PlacedDraft, PlacedRuns } from './order-places.ts';
import type { OwnRunValues, RowDraft } from './row-draft.ts';

type Value = string | number;

interface StatedField {
  readonly field: RunField;
  readonly of: (row: RowDraft) => Value | undefined;
}

const statedFields: readonly StatedField[] = [
  { field: 'supplyV', of: (row) => row.number.supply },
  { field: 'panel', of: (row) => row.text.panel },
  { field: 'circuit', of: (row) => row.text.circuit },
  { field: 'breakerA', of: (row) => row.number.breaker },
  { field: 'protection', of: (row) => row.text.protection },
  { field: 'line', of: (row) => row.text.line },
  { field: 'conductor', of: (row) => row.text.conductor },
  { field: 'homeRunM', of: (row) => row.number.homeRun },
  { field: 'leadInM', of: (row) => row.number.leadIn },
];

/** Circuit names compared: `1,3`, `1, 3` and `1/3` are one. */
function circuitKey(name: string): string {
  return looseKey(name).replace(/\s*[,/+&;]\s*/gu, ',');
}

function same(field: RunField, a: Value, b: Value): boolean {
  if (typeof a === 'number' && typeof b === 'number') {
    return Math.abs(a - b) <= 1e-9 * Math.max(Math.abs(a), Math.abs(b));
  }
  const key = field === 'circuit' ? circuitKey : looseKey;
  return key(String(a)) === key(String(b));
}

type Stated = Map<RunField, Value>;

/** Each field from the first row, in order of place, that gives one. */
function statedBy(members: readonly PlacedDraft[]): Stated {
  const stated: Stated = new Map();
  for (const { field, of } of statedFields) {
    for (const { draft } of members) {
      const value = of(draft.row);
      if (value === undefined) continue;
      stated.set(field, value);
      break;
    }
  }
  return stated;
}

/** What our own columns say of the run: the first row that says something. */
function ownValue(members: readonly PlacedDraft[], key: keyof OwnRunValues): string | null {
  return members.find(({ draft }) => draft.row.ofRun[key] !== null)?.draft.row.ofRun[key] ?? null;
}

const text = (value: Value | undefined): string | null =>
  value === undefined ? null : String(value);
const number = (value: Value | undefined): number | null =>
  typeof value === 'number' ? value : null;

export interface BuiltRuns {
  readonly runs: readonly Run[];
  readonly circuits: readonly Circuit[];
  /** What the row says of its run where the run, or its circuit, says something else. */
  readonly differing: (placed: PlacedDraft) => RunStatement | null;
}

/** Builds runs and circuits in order of first appearance. A run without a stated circuit has its own. */
export function buildRuns(placed: PlacedRuns): BuiltRuns {
  const circuits: { -readonly [K in keyof Circuit]: Circuit[K] }[] = [];
  const byKey = new Map<string, number>();
  const runs: Run[] = [];
  const inForce = new Map<string, Stated>();
  for (const [name, members] of placed.byRun) {
    const stated = statedBy(members);
    const panel = text(stated.get('panel'));
    const circuitName = text(stated.get('circuit'));
    const key =
      circuitName === null
        ? null
        : JSON.stringify([looseKey(panel ?? ''), circuitKey(circuitName)]);
    let index = key === null ? undefined : byKey.get(key);
    if (index === undefined) {
      index = circuits.length;
      circuits.push({ ...blankCircuit(`c${index + 1}`), panel, name: circuitName });
      if (key !== null) byKey.set(key, index);
    }
    const circuit = circuits[index];
    if (circuit === undefined) continue;
    circuit.breakerA ??= number(stated.get('breakerA'));
    circuit.protection ??= text(stated.get('protection'));
    runs.push({
      ...blankRun(name, circuit.id),
      supplyV: number(stated.get('supplyV')),
      line: text(stated.get('line')),
      conductor: text(stated.get('conductor')),
      homeRunM: number(stated.get('homeRunM')),
      leadInM: number(stated.get('leadInM')),
      homeRunConductor: ownValue(members, 'homeRunConductor'),
      dataOutput: ownValue(members, 'dataOutput'),
      locks: [...new Set(members.flatMap(({ draft }) => draft.row.locks.run))],
    });
    inForce.set(name, stated);
  }
  // Breaker and protection belong to the circuit, whichever of its runs named them first.
  const byId = new Map(circuits.map((circuit) => [circuit.id, circuit]));
  for (const run of runs) {
    const circuit = byId.get(run.circuitId);
    const stated = inForce.get(run.name);
    if (circuit === undefined || stated === undefined) continue;
    if (circuit.breakerA !== null) stated.set('breakerA', circuit.breakerA);
    if (circuit.protection !== null) stated.set('protection', circuit.protection);
  }
  return { runs, circuits, differing: (one) => differingOf(one, inForce) };
}

function differingOf(
  { draft, run }: PlacedDraft,
  inForce: ReadonlyMap<string, Stated>,
): RunStatement | null {
  const stated = run === null ? undefined : inForce.get(run);
  if (stated === undefined) return null;
  let differing: Partial<Record<RunField, Value>> | null = null;
  for (const { field, of } of statedFields) {
    const value = of(draft.row);
    const used = stated.get(field);
    if (value === undefined || used === undefined || same(field, value, used)) continue;
    differing ??= {};
    differing[field] = value;
  }
  return differing as RunStatement | null;
}
