/** The import report: every reading that was not plain, by cell. */
import type { Confidence, Reading } from '../../document/project.ts';
import { cellName } from '../../document/source-workbook.ts';
import { filePrefix } from './cell-place.ts';
import type { CellReading } from './cell-reading.ts';

const CHANGED = 'changed in the import report';
const LEFT_BLANK = 'left blank in the import report';
const changedTo = (text: string): string => `${CHANGED} to "${text}"`;

/** The reading is of what the engineer answered, not of what the file has. */
export function isOfAnswer({ note }: Reading): boolean {
  return note.startsWith(CHANGED);
}

/** The engineer has left the cell blank, such as the one of two that contradict each other. */
export function isLeftBlank({ note }: Reading): boolean {
  return note === LEFT_BLANK;
}

/** What the engineer answered for a cell in the import report, out of the note of its reading; null: nothing. */
export function answeredText({ note, raw }: Reading): string | null {
  const found = /^changed in the import report to "(.*?)"; /su.exec(note)?.[1];
  return found === undefined || found === raw ? null : found;
}

/** A cell the engineer has answered for: what the file has, and what is read instead. */
export interface AnsweredText {
  readonly raw: string;
  readonly text: string | null;
}

/** A cell of a sheet of one file. */
export interface LogPlace {
  readonly sheet: string;
  readonly row: number;
  /** Zero-based. */
  readonly column: number;
}

/** All readings of an import, in the order in which they were told. */
export class ReadingBook {
  readonly readings: Reading[] = [];
  private readonly told = new Set<string>();

  /** `answered` by cell name, as readings name cells. */
  constructor(private readonly answered: ReadonlyMap<string, AnsweredText>) {}

  /** The log of one file: its cells are named by sheet, those of a further file by the file's name too. */
  logOf(file: number, fileName: string): ReadingLog {
    return new ReadingLog(this, filePrefix(file, fileName));
  }

  put(reading: Reading): void {
    const before = this.answered.size === 0 ? undefined : this.answered.get(reading.cell);
    if (before === undefined) {
      this.readings.push(reading);
      return;
    }
    this.told.add(reading.cell);
    const note =
      before.text === null
        ? `${LEFT_BLANK}; ${reading.note}`
        : `${changedTo(before.text)}; ${reading.note}`;
    this.readings.push({ ...reading, raw: before.raw, note });
  }

  /** Adds what is to be said of a file as a whole. */
  addRemark(
    fileName: string,
    note: string,
    confidence: Confidence = 'likely',
    column: string | null = null,
  ): void {
    this.readings.push({ cell: fileName, raw: '', column, value: null, confidence, note });
  }

  /** Lists the answered cells that were read plainly after all, so that each can be changed again. */
  listAnswers(): void {
    for (const [cell, { raw, text }] of this.answered) {
      if (this.told.has(cell)) continue;
      const note = text === null ? LEFT_BLANK : CHANGED;
      this.readings.push({ cell, raw, column: null, value: text, confidence: 'sure', note });
    }
  }
}

/** The readings of one file. */
export class ReadingLog {
  constructor(
    private readonly book: ReadingBook,
    private readonly prefix: string,
  ) {}

  /** The cell's name in the report. */
  nameOf({ sheet, row, column }: LogPlace): string {
    return `${this.prefix}${cellName(sheet, row, column)}`;
  }

  /** Adds a reading of a cell. */
  add(
    place: LogPlace,
    raw: string,
    column: string | null,
    value: Reading['value'],
    confidence: Confidence,
    note: string,
    offer?: string,
  ): void {
    const reading = { cell: this.nameOf(place), raw, column, value, confidence, note };
    this.book.put(offer === undefined ? reading : { ...reading, offer });
  }

  /** Adds what a cell's reader told; returns the value. Nothing is added for a plain reading. */
  take<T extends string | number>(
    place: LogPlace,
    raw: string,
    column: string | null,
    reading: CellReading<T>,
  ): T | null {
    const { value, confidence, note, offer } = reading;
    if (confidence !== null) this.add(place, raw, column, value, confidence, note, offer);
    return value;
  }
}
