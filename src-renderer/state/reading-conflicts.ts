/** Two files that say different things of one fixture: neither holds until one of them is chosen. */
import type { Reading } from '../../src-shared/document/project.ts';

export interface Side {
  readonly cell: string;
  /** What its file says there. */
  readonly raw: string;
}

export interface Conflict {
  readonly column: string;
  /** In the order of the report: the first file's side, then the further one's. */
  readonly sides: readonly [Side, Side];
}

/** As `merge/merge-rows.ts` words it; a test reads two files and holds the two together. */
const worded = /^(.+?![A-Z]{1,3}\d+) says (?:".*"|something else) for the .+: neither was taken/su;

/** The cell a conflict is with; null: the reading is none. */
export function conflictWith({ note, confidence }: Reading): string | null {
  return confidence === 'refused' ? (worded.exec(note)?.[1] ?? null) : null;
}

/** The conflict a reading is one side of, with both sides; null: it is none. */
export function conflictOf(reading: Reading, readings: readonly Reading[]): Conflict | null {
  const other = conflictWith(reading);
  if (other === null || reading.column === null) return null;
  const facing = readings.find(
    (one) =>
      one.cell === other && one.column === reading.column && conflictWith(one) === reading.cell,
  );
  if (facing === undefined) return null;
  const [first, second] =
    readings.indexOf(reading) < readings.indexOf(facing) ? [reading, facing] : [facing, reading];
  return {
    column: reading.column,
    sides: [
      { cell: first.cell, raw: first.raw },
      { cell: second.cell, raw: second.raw },
    ],
  };
}
