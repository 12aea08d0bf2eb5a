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
import { badOption, type ReadRefusal } from './read-refusal.ts';

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

function applyMap(entries: Entry[], map: ReadonlyMap<string, string>): ReadRefusal | null {
  const takenBy = new Map<string, string>();
  for (const [header, id] of map) {
    const option = `--map ${header}=${id}`;
    if (id !== '' && !isSourceColumnId(id)) {
      return badOption(
        option,
        `"${id}" is no column id.`,
        'Use a column id such as tag, span or load.',
      );
    }
    const wanted = headerWords(header);
    const entry =
      entries.find((e) => e.header === header) ??
      entries.find((e) => headerWords(e.header) === wanted);
    if (entry === undefined) {
      const todo = `The headers are ${entries
        .slice(0, 40)
        .map((e) => `"${e.header}"`)
        .join(', ')}.`;
      return badOption(option, `There is no header "${header}" in the header row.`, todo);
    }
    const other = takenBy.get(id);
    if (id !== '' && other !== undefined) {
      const what = `"${other}" and "${header}" cannot both be ${id}.`;
      return badOption(option, what, 'Give each column id to one header.');
    }
    takenBy.set(id, header);
    entry.given = true;
    entry.rank = -1;
    entry.id = id === '' ? null : (id as SourceColumnId);
    if (entry.id !== null) {
      const whole = `${entry.text.upper} ${entry.text.lower}`;
      entry.unit = headerUnit(whole, unitDimensions(entry.id));
    }
  }
  return null;
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

/**
 * Plans the columns of a schedule. `constantPerType` looks at the values of a column, given the type
 * column. Refused: a map that names no header, no column, or one column twice.
 */
export function planColumns(
  sheet: SourceSheet,
  header: FoundHeader,
  map: ReadonlyMap<string, string>,
  constantPerType: (column: number, typeColumn: number | null) => boolean,
):
  | { readonly ok: true; readonly plan: ColumnPlan }
  | { readonly ok: false; readonly refusal: ReadRefusal } {
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
  const ours = findOwnColumns(entries.map((e) => e.header));
  const theirs = entries.filter((_, place) => !ours.has(place));
  const refusal = applyMap(theirs, map);
  if (refusal !== null) return { ok: false, refusal };
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
    ok: true,
    plan: {
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
    },
  };
}

/** Map option as the header search wants it. */
export function mappedHeaders(map: ReadonlyMap<string, string>): MappedHeaders {
  return new Map([...map].map(([header, id]) => [headerWords(header), id]));
}
