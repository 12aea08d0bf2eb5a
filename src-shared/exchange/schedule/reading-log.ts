/** The import report: every reading that was not plain, by cell. */
import type { Confidence, Reading } from '../../document/project.ts';
import { cellName } from '../../document/source-workbook.ts';
import type { CellReading } from './cell-reading.ts';

const CHANGED = 'changed in the import report';
const changedTo = (text: string): string => `${CHANGED} to "${text}"`;

/** The reading is of what the engineer answered, not of what the file has. */
export function isOfAnswer({ note }: Reading): boolean {
  return note.startsWith(CHANGED);
}

/** What the engineer answered for a cell in the import report, out of the note of its reading; null: nothing. */
export function answeredText({ note, raw }: Reading): string | null {
  const found = /^changed in the import report to "(.*?)"; /su.exec(note)?.[1];
  return found === undefined || found === raw ? null : found;
}

/** Raw texts of cells the engineer has answered for, by cell name. */
export type RawBefore = ReadonlyMap<string, string>;

export class ReadingLog {
  readonly readings: Reading[] = [];
  private readonly answeredSeen = new Set<string>();
  constructor(private readonly rawBefore: RawBefore) {}

  /** Adds a reading of a cell. */
  add(
    place: { readonly sheet: string; readonly row: number; readonly column: number },
    raw: string,
    column: string | null,
    value: Reading['value'],
    confidence: Confidence,
    note: string,
  ): void {
    const cell = cellName(place.sheet, place.row, place.column);
    const before = this.rawBefore.size === 0 ? undefined : this.rawBefore.get(cell);
    if (before !== undefined) {
      this.answeredSeen.add(cell);
      const told = `${changedTo(raw)}; ${note}`;
      this.readings.push({ cell, raw: before, column, value, confidence, note: told });
    } else this.readings.push({ cell, raw, column, value, confidence, note });
  }

  /** Adds what a cell's reader told; returns the value. Nothing is added for a plain reading. */
  take<T extends string | number>(
    place: { readonly sheet: string; readonly row: number; readonly column: number },
    raw: string,
    column: string | null,
    reading: CellReading<T>,
  ): T | null {
    if (reading.confidence !== null) {
      this.add(place, raw, column, reading.value, reading.confidence, reading.note);
    }
    return reading.value;
  }

  /** Adds what the reader of the file remarked on it as a whole. */
  addRemark(fileName: string, note: string): void {
    this.readings.push({
      cell: fileName,
      raw: '',
      column: null,
      value: null,
      confidence: 'likely',
      note,
    });
  }

  /** Lists the answered cells that were read plainly after all, so that each can be changed again. */
  listAnswers(answers: ReadonlyMap<string, string | null>): void {
    for (const [cell, raw] of this.rawBefore) {
      if (this.answeredSeen.has(cell)) continue;
      const value = answers.get(cell) ?? null;
      const note = value === null ? 'left blank in the import report' : CHANGED;
      this.readings.push({ cell, raw, column: null, value, confidence: 'sure', note });
    }
  }
}
