/** The closed set of changes a document can undergo, and the command that groups them. */
import type { Circuit, Fixture, FixtureType, Line, Project, Run, Supply } from './project.ts';

/** The tables of a project by name, with the record each holds. */
export interface TableRecords {
  types: FixtureType;
  lines: Line;
  supplies: Supply;
  circuits: Circuit;
  runs: Run;
  fixtures: Fixture;
}
export type TableName = keyof TableRecords;

/** Parts of a project that are one value, not a table. */
export type ProjectPart = Exclude<keyof Project, TableName>;

type SetChange<T extends TableName> = {
  [F in keyof TableRecords[T]]: {
    readonly kind: 'set';
    readonly table: T;
    /** Id of a fixture or circuit, name of anything else. */
    readonly key: string;
    readonly field: F;
    readonly value: TableRecords[T][F];
  };
}[keyof TableRecords[T]];

type InsertChange<T extends TableName> = {
  readonly kind: 'insert';
  readonly table: T;
  readonly index: number;
  readonly records: readonly TableRecords[T][];
};

type RemoveChange<T extends TableName> = {
  readonly kind: 'remove';
  readonly table: T;
  readonly keys: readonly string[];
};

type PartChange = {
  [P in ProjectPart]: { readonly kind: 'part'; readonly part: P; readonly value: Project[P] };
}[ProjectPart];

export type Change =
  | { [T in TableName]: SetChange<T> | InsertChange<T> | RemoveChange<T> }[TableName]
  | PartChange;

/** One user action: one step of undo. */
export interface Command {
  readonly label: string;
  readonly changes: readonly Change[];
}

/** The field that identifies a record of a table. */
export function keyOf(table: TableName, record: TableRecords[TableName]): string {
  return table === 'fixtures' || table === 'circuits'
    ? (record as Fixture | Circuit).id
    : (record as Run).name;
}
