/** What reading one cell gives. */
import type { Confidence } from '../../document/project.ts';

/** `confidence` null: read plainly, nothing to tell. */
export interface CellReading<T extends string | number> {
  readonly value: T | null;
  readonly confidence: Confidence | null;
  readonly note: string;
  /** A text the cell may be read as instead. */
  readonly offer?: string;
}

export function plain<T extends string | number>(value: T | null): CellReading<T> {
  return { value, confidence: null, note: '' };
}

export function refused(note: string): CellReading<never> {
  return { value: null, confidence: 'refused', note };
}

export function told<T extends string | number>(
  value: T | null,
  confidence: Confidence,
  notes: readonly string[] | string,
): CellReading<T> {
  return { value, confidence, note: typeof notes === 'string' ? notes : notes.join('; ') };
}

/** Note of a cell that is struck through in a row that is not. */
export const STRUCK = 'struck through in the file: taken as deleted';

/** How the note of a cell begins that takes the value of the merged area it belongs to. */
export const MERGED_WITH = 'merged with';

const order: readonly Confidence[] = ['sure', 'likely', 'guess', 'refused'];

/** The less sure of two; null counts as surest. */
export function lessSure(a: Confidence | null, b: Confidence): Confidence {
  return a !== null && order.indexOf(a) > order.indexOf(b) ? a : b;
}

/** A reading with more said of it, and at best as sure as `confidence`. */
export function withNote<T extends string | number>(
  reading: CellReading<T>,
  confidence: Confidence,
  note: string,
  offer?: string,
): CellReading<T> {
  const all = reading.note === '' ? note : `${reading.note}; ${note}`;
  const next = { ...reading, confidence: lessSure(reading.confidence, confidence), note: all };
  return offer === undefined ? next : { ...next, offer };
}
