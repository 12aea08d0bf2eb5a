/** Rows as a grid holds them: one that says the same as before stays, and is not painted again. */

/** The grid's own row; `row` is replaced when what it says changes. */
export interface Held<T> {
  readonly id: string;
  row: T;
}

export interface HeldUpdate<T> {
  readonly held: readonly Held<T>[];
  /** Rows came, went or were put otherwise: the grid needs the list anew. */
  readonly moved: boolean;
  /** Ids of the rows to be painted again. */
  readonly changed: ReadonlySet<string>;
}

/** Brings held rows up to date; a row that stays keeps its object. */
export function updateHeld<T>(
  before: readonly Held<T>[],
  rows: readonly T[],
  idOf: (row: T) => string,
  same: (a: T, b: T) => boolean,
): HeldUpdate<T> {
  const known = new Map(before.map((held) => [held.id, held]));
  const changed = new Set<string>();
  const held = rows.map((row): Held<T> => {
    const id = idOf(row);
    const had = known.get(id);
    if (had === undefined) return { id, row };
    if (!same(had.row, row)) {
      had.row = row;
      changed.add(id);
    }
    return had;
  });
  const moved = held.length !== before.length || held.some((one, at) => one !== before[at]);
  return { held, moved, changed };
}
