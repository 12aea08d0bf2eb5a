/** Every column of the schedule sheet: its header, what it is read as, in which unit. */
import type { SourceColumnId } from '../../columns/column-table.ts';
import { isSourceColumnId } from '../../columns/column-table.ts';
import type { SourceColumn } from '../../document/project.ts';
import type { SourceSheet } from '../../document/source-workbook.ts';
import { columnLetters } from '../../document/source-workbook.ts';
import { findOwnColumns } from '../export/own-columns.ts';
import { isBlank } from './cell-text.ts';
import {
  type FoundHeader,
  type HeaderText,
  joinedText,
  type MappedHeaders,
} from './find-header.ts';
import { headerUnit, headerWords } from './header-words.ts';
import { type HeaderMatch, matchJoinedHeader, unitDimensions } from './match-header.ts';

/** A column that is read. */
export interface ReadColumn {
  readonly id: SourceColumnId;
  readonly column: number;
  readonly unit: string | null;
  readonly header: HeaderText;
}

/** A header that could have been read otherwise. */
export interface HeaderDoubt {
  readonly column: number;
  readonly header: string;
  readonly id: SourceColumnId | null;
  readonly confidence: 'likely' | 'guess';
  readonly note: string;
}

/** A column of one sheet, read or carried along. */
export interface PlannedColumn extends SourceColumn {
  /** Zero-based. */
  readonly column: number;
}

export interface ColumnPlan {
  readonly columns: readonly PlannedColumn[];
  readonly read: readonly ReadColumn[];
  /** Zero-based columns of our bookkeeping; null when not there. */
  readonly rowIdColumn: number | null;
  readonly locksColumn: number | null;
  readonly homeRunConductorColumn: number | null;
  readonly dataOutputColumn: number | null;
  readonly doubts: readonly HeaderDoubt[];
  /** Headers the caller spoke of that this sheet has. */
  readonly givenUsed: ReadonlySet<string>;
}

interface Entry {
  readonly text: HeaderText;
  /** The header as reported; a repeated one carries its column letters. */
  readonly header: string;
  id: SourceColumnId | 'unclear' | null;
  rank: number;
  unit: string | null;
  given: boolean;
}

function uniqueHeaders(texts: readonly HeaderText[]): { text: HeaderText; header: string }[] {
  const seen = new Set<string>();
  return texts.map((text) => {
    const joined = joinedText(text);
    const letters = columnLetters(text.column);
    let header = joined === '' ? `Column ${letters}` : joined;
    while (seen.has(header)) header = `${header} (${letters})`;
    seen.add(header);
    return { text, header };
  });
}

/** Columns with values but without a header are carried along too. */
function withNameless(sheet: SourceSheet, header: FoundHeader): HeaderText[] {
  const named = new Set(header.texts.map((t) => t.column));
  const nameless = new Set<number>();
  for (const row of sheet.rows) {
    if (row.number <= header.row) continue;
    for (const cell of row.cells) {
      if (!named.has(cell.column) && !nameless.has(cell.column) && !isBlank(cell)) {
        nameless.add(cell.column);
      }
    }
  }
  const extra = [...nameless].map((column) => ({ column, upper: '', lower: '' }));
  return [...header.texts, ...extra].sort((a, b) => a.column - b.column);
}

/** What the caller says a header holds. */
export interface GivenColumn {
  readonly header: string;
  /** Column id, or null to carry the column along unread. */
  readonly columnId: string | null;
}

/** `label` is what stands in brackets behind a header that was read otherwise on another sheet. */
function entryOf(entries: readonly Entry[], header: string, label: string): Entry | undefined {
  const wanted = headerWords(header);
  const ending = ` (${label})`;
  const bare = header.endsWith(ending) ? header.slice(0, -ending.length) : null;
  return (
    entries.find((e) => e.header === bare) ??
    entries.find((e) => e.header === header) ??
    entries.find((e) => headerWords(e.header) === wanted)
  );
}

/** Gives columns what the caller says of their headers; the last word on a column id holds. Returns the headers found. */
function applyGiven(
  entries: readonly Entry[],
  given: readonly GivenColumn[],
  label: string,
): ReadonlySet<string> {
  const used = new Set<string>();
  const holder = new Map<string, Entry>();
  for (const { header, columnId } of given) {
    const entry = entryOf(entries, header, label);
    if (entry === undefined || (columnId !== null && !isSourceColumnId(columnId))) continue;
    used.add(header);
    const before = columnId === null ? undefined : holder.get(columnId);
    if (before !== undefined && before !== entry) before.id = null;
    entry.given = true;
    entry.rank = -1;
    entry.id = columnId;
    if (columnId === null) continue;
    holder.set(columnId, entry);
    const whole = `${entry.text.upper} ${entry.text.lower}`;
    entry.unit = headerUnit(whole, unitDimensions(columnId));
  }
  return used;
}

/** Of several headers for one column the surest is read, then the leftmost; the others are carried. */
function settleRivals(entries: readonly Entry[], doubts: HeaderDoubt[]): void {
  const best = new Map<SourceColumnId, Entry>();
  for (const entry of entries) {
    if (entry.id === null || entry.id === 'unclear') continue;
    const rival = best.get(entry.id);
    if (rival === undefined || entry.rank < rival.rank) best.set(entry.id, entry);
  }
  for (const entry of entries) {
    if (entry.id === null || entry.id === 'unclear') continue;
    const winner = best.get(entry.id);
    if (winner === undefined || winner === entry) continue;
    if (winner.rank >= 0 || entry.rank >= 0) {
      doubts.push({
        column: entry.text.column,
        header: entry.header,
        id: null,
        confidence: 'guess',
        note: `also looks like ${entry.id}, which was read from "${winner.header}"; carried along unread`,
      });
    }
    entry.id = null;
    entry.unit = null;
  }
}

const slotWords = new Set(['ch', 'chs', 'channels', 'dmx ch', 'dmx chs', 'dmx channels']);

/** A DMX column whose header says neither: constant per type it is a footprint, else the start addresses. */
function settleUnclear(
  entries: readonly Entry[],
  constantPerType: (column: number) => boolean,
  doubts: HeaderDoubt[],
): void {
  const has = (id: SourceColumnId) => entries.some((e) => e.id === id);
  for (const entry of entries) {
    if (entry.id === 'unclear') {
      const constant = constantPerType(entry.text.column);
      const id = constant ? 'footprint' : 'address';
      const free = !has(id);
      entry.id = free ? id : null;
      const why = constant ? 'its values are constant per type' : 'its values differ within a type';
      const note = free
        ? `the header does not say whether it holds footprints or start addresses; ${why}: read as ${id}`
        : `the header does not say what it holds; ${why}, but ${id} stands in another column: carried along unread`;
      const { text, header } = entry;
      doubts.push({ column: text.column, header, id: entry.id, confidence: 'guess', note });
    } else if (
      entry.id === 'footprint' &&
      !entry.given &&
      slotWords.has(headerWords(entry.text.lower))
    ) {
      const steady = constantPerType(entry.text.column);
      doubts.push({
        column: entry.text.column,
        header: entry.header,
        id: 'footprint',
        confidence: steady ? 'likely' : 'guess',
        note: steady
          ? 'channels: read as the footprint, not as the start address'
          : 'channels: read as the footprint, though its values differ within a type',
      });
    }
  }
}

/** Columns of ours; under a two-row header the label to their left seems to reach over them. */
function ownColumnsOf(entries: readonly Entry[]): ReturnType<typeof findOwnColumns> {
  const whole = findOwnColumns(entries.map((e) => e.header));
  return whole.size > 0 ? whole : findOwnColumns(entries.map((e) => e.text.lower));
}

/**
 * Plans the columns of a schedule. `constantPerType` looks at the values of a column, given the type
 * column. `given` may name headers the sheet does not have: `givenUsed` says which it has. `label` is
 * how the sheet is told from others in `Start (L44)`.
 */
export function planColumns(
  sheet: SourceSheet,
  header: FoundHeader,
  given: readonly GivenColumn[],
  label: string,
  constantPerType: (column: number, typeColumn: number | null) => boolean,
): ColumnPlan {
  const entries = uniqueHeaders(withNameless(sheet, header)).map(
    ({ text, header: shown }): Entry => {
      const match: HeaderMatch | null = matchJoinedHeader(text.upper, text.lower);
      return {
        text,
        header: shown,
        id: match?.id ?? null,
        rank: match?.rank ?? 99,
        unit: match?.unit ?? null,
        given: false,
      };
    },
  );
  const ours = ownColumnsOf(entries);
  const theirs = entries.filter((_, place) => !ours.has(place));
  const givenUsed = applyGiven(theirs, given, label);
  const doubts: HeaderDoubt[] = [];
  settleRivals(theirs, doubts);
  const typeColumn = theirs.find((e) => e.id === 'type')?.text.column ?? null;
  settleUnclear(theirs, (column) => constantPerType(column, typeColumn), doubts);
  const ourColumn = (key: 'rowId' | 'locks' | 'homeRunConductor' | 'dataOutput') =>
    entries.find((_, place) => ours.get(place) === key)?.text.column ?? null;
  const settled = theirs.flatMap((e) =>
    e.id === null || e.id === 'unclear' ? [] : [{ ...e, id: e.id }],
  );
  return {
    columns: theirs.map((e) => ({
      column: e.text.column,
      header: e.header,
      columnId: e.id,
      unit: e.id === null ? null : e.unit,
    })),
    read: settled.map(({ id, text, unit }) => ({ id, column: text.column, unit, header: text })),
    rowIdColumn: ourColumn('rowId'),
    locksColumn: ourColumn('locks'),
    homeRunConductorColumn: ourColumn('homeRunConductor'),
    dataOutputColumn: ourColumn('dataOutput'),
    doubts: doubts.sort((a, b) => a.column - b.column),
    givenUsed,
  };
}

/** Given columns as the header search wants them. */
export function mappedHeaders(given: readonly GivenColumn[]): MappedHeaders {
  return new Map(given.map(({ header, columnId }) => [headerWords(header), columnId ?? '']));
}
