/** What a revised file says otherwise than the one before, and what becomes of it. */
import type { ColumnId } from '../../columns/column-table.ts';
import { circuitFieldOf, fixtureFieldOf, runFieldOf } from '../../document/cell-fields.ts';
import type { TableName } from '../../document/change.ts';

export type DifferenceKind =
  /** New in the revised file. */
  | 'added'
  /** No longer in it. */
  | 'removed'
  /** The same fixture under another tag. */
  | 'renumbered'
  /** A value is another one. */
  | 'changed'
  /** It says otherwise, but the engineer has locked the value: it stays. */
  | 'locked'
  /** It says otherwise, but the engineer has changed it too: the engineer's stays. */
  | 'conflict';

export interface Difference {
  readonly kind: DifferenceKind;
  readonly table: TableName | 'project';
  /** Id of the fixture or circuit, name of anything else. */
  readonly key: string;
  /** Tag of the fixture, name of anything else. */
  readonly name: string;
  /** Field of the record; null: the record as a whole. */
  readonly field: string | null;
  /** The column that shows the field; null: none does. */
  readonly column: ColumnId | null;
  /** What the project says now. */
  readonly was: unknown;
  /** What the revised file says. */
  readonly now: unknown;
  readonly note: string;
}

function reversed<T extends string>(
  fields: Readonly<Partial<Record<ColumnId, T>>>,
): ReadonlyMap<string, ColumnId> {
  return new Map(Object.entries(fields).map(([column, field]) => [field, column as ColumnId]));
}

/** The column that shows a field, by table. */
export const columnOfField: Readonly<Partial<Record<TableName, ReadonlyMap<string, ColumnId>>>> = {
  fixtures: reversed(fixtureFieldOf),
  runs: new Map([...reversed(runFieldOf), ['circuitId', 'circuit']]),
  circuits: reversed(circuitFieldOf),
};
