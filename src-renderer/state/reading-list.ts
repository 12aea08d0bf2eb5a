/** The readings of the report in the order they want a look, with what has become of each. */
import type { Confidence, ImportAnswers, Reading } from '../../src-shared/document/project.ts';
import { acceptedIn } from './import-answer-edits.ts';

export interface ReadingEntry {
  /** Stays with its reading whatever else is answered. */
  readonly key: string;
  readonly reading: Reading;
  readonly accepted: boolean;
  /** The engineer has typed another text for the cell. */
  readonly answered: boolean;
  /** Wants a look: not sure, and not accepted so far. */
  readonly open: boolean;
  /** Readings that say the same of the same column share it. */
  readonly kind: string;
}

/** What wants a look first. */
export const confidences: readonly Confidence[] = ['refused', 'guess', 'likely', 'sure'];

/** A note without the numbers and words that differ from cell to cell. */
export function kindOf({ column, confidence, note }: Reading): string {
  const plain = note
    .replace(/"[^"]*"/gu, '"…"')
    .replace(/\d+(?:[.,]\d+)*/gu, '#')
    .replace(/\s+/gu, ' ');
  return `${confidence} ${column ?? ''} ${plain}`;
}

/** Every reading once, refused first, sure last, each group in the order of the file. */
export function listReadings(
  readings: readonly Reading[],
  answers: ImportAnswers,
): readonly ReadingEntry[] {
  const isAccepted = acceptedIn(answers);
  const answeredCells = new Set(answers.cells.map(({ cell }) => cell));
  const seen = new Map<string, number>();
  const entries = readings.map((reading): ReadingEntry => {
    const base = `${reading.cell} ${reading.column ?? ''}`;
    const nth = seen.get(base) ?? 0;
    seen.set(base, nth + 1);
    const accepted = isAccepted(reading);
    return {
      key: nth === 0 ? base : `${base} ${nth}`,
      reading,
      accepted,
      answered: answeredCells.has(reading.cell),
      open: reading.confidence !== 'sure' && !accepted,
      kind: kindOf(reading),
    };
  });
  return confidences.flatMap((level) => entries.filter((e) => e.reading.confidence === level));
}

export interface ReadingFilter {
  readonly confidences: ReadonlySet<Confidence>;
  readonly state: 'open' | 'accepted' | 'all';
}

/** What the list shows under a filter. A sure reading has nothing to accept: it shows under `all` and `open` alike. */
export function filterReadings(
  entries: readonly ReadingEntry[],
  { confidences: levels, state }: ReadingFilter,
): readonly ReadingEntry[] {
  return entries.filter(
    ({ reading, accepted }) =>
      levels.has(reading.confidence) && (state === 'all' || accepted === (state === 'accepted')),
  );
}

/** The open readings that say the same as this one, itself among them if it is open. */
export function alike(
  entries: readonly ReadingEntry[],
  { kind }: ReadingEntry,
): readonly ReadingEntry[] {
  return entries.filter((entry) => entry.open && entry.kind === kind);
}
