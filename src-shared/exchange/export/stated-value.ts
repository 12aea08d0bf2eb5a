import type { ColumnId } from '../../columns/column-table.ts';
import {
  circuitFieldOf,
  fixtureFieldOf,
  runFieldOf,
  statementFieldOf,
} from '../../document/cell-fields.ts';
import type { CellValue } from '../../document/edit-cell.ts';
import type { Circuit, Fixture, Project, Run } from '../../document/project.ts';

/** Look-ups for what the document says in a cell. */
export interface StatedIndex {
  readonly runs: ReadonlyMap<string, Run>;
  readonly circuits: ReadonlyMap<string, Circuit>;
}

export function indexStated(project: Project): StatedIndex {
  return {
    runs: new Map(project.runs.map((run) => [run.name, run])),
    circuits: new Map(project.circuits.map((circuit) => [circuit.id, circuit])),
  };
}

/** The value belongs to the row's run or circuit, not to the fixture. */
export function isRunLevel(column: ColumnId): boolean {
  return statementFieldOf[column] !== undefined;
}

/**
 * What the document says for a typed column in a row, in SI; null where it says nothing. For a
 * value of the run: the row's own statement where it differs, else the run's.
 */
export function statedValue(fixture: Fixture, column: ColumnId, index: StatedIndex): CellValue {
  const field = fixtureFieldOf[column];
  if (field !== undefined) return fixture[field];
  const statement = statementFieldOf[column];
  if (statement === undefined) return null;
  const stated = fixture.differing?.[statement];
  if (stated !== undefined) return stated;
  const run = fixture.run === null ? undefined : index.runs.get(fixture.run);
  if (run === undefined) return null;
  const runField = runFieldOf[column];
  if (runField !== undefined) return run[runField];
  const circuitField = circuitFieldOf[column];
  const circuit = index.circuits.get(run.circuitId);
  return circuitField === undefined || circuit === undefined ? null : circuit[circuitField];
}
