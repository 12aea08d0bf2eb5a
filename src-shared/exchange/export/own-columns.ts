/** Columns our export writes beside the engineer's own, and how import knows them again. */
import { type ColumnId, type ColumnKind, columnById, columns } from '../../columns/column-table.ts';
import type { LengthUnit } from '../../units/length.ts';

/** Solved and bookkeeping columns, and those that stand in the export alone. */
export type OwnColumnKey =
  | 'leads'
  | 'installedSpan'
  | 'cableSoFar'
  | 'current'
  | 'cumulativeCurrent'
  | 'throughCurrent'
  | 'voltsHere'
  | 'voltsLow'
  | 'voltsHigh'
  | 'drop'
  | 'proposedUniverse'
  | 'proposedAddress'
  | 'lastAddress'
  | 'findings'
  | 'locks'
  | 'homeRunConductor'
  | 'dataOutput'
  | 'rowId';

export interface OwnColumn {
  readonly key: OwnColumnKey;
  readonly title: string;
  readonly columnId: ColumnId | null;
  readonly kind: ColumnKind;
  /** As in the table of columns: `length` follows the project's display unit. */
  readonly unit: string | null;
  readonly decimals: number | null;
  readonly help: string;
}

function fromTable(id: OwnColumnKey & ColumnId): OwnColumn {
  const { title, kind, unit, decimals, help } = columnById(id);
  return { key: id, columnId: id, title, kind, unit, decimals, help };
}

const own = (
  key: OwnColumnKey,
  title: string,
  kind: ColumnKind,
  unit: string | null,
  decimals: number | null,
  help: string,
): OwnColumn => ({ key, columnId: null, title, kind, unit, decimals, help });

/** In the order in which they are written; the id comes last. */
export const ownColumns: readonly OwnColumn[] = [
  own('leads', 'Leads in span', 'text', 'length', null, 'Stock pieces laid in this span.'),
  own(
    'installedSpan',
    'Span as installed',
    'length',
    'length',
    2,
    'Cable laid in this span: the sum of its stock pieces, or what is typed as installed.',
  ),
  fromTable('cableSoFar'),
  fromTable('current'),
  fromTable('cumulativeCurrent'),
  fromTable('throughCurrent'),
  fromTable('voltsHere'),
  fromTable('voltsLow'),
  fromTable('voltsHigh'),
  fromTable('drop'),
  own(
    'proposedUniverse',
    'Proposed universe',
    'integer',
    null,
    0,
    'Not from the file: a proposal nobody has taken yet. Universe numbers begin at 1.',
  ),
  own(
    'proposedAddress',
    'Proposed start address',
    'integer',
    null,
    0,
    'Not from the file: a proposal nobody has taken yet.',
  ),
  fromTable('lastAddress'),
  fromTable('findings'),
  fromTable('locks'),
  own(
    'homeRunConductor',
    'Runledger home run conductor',
    'text',
    null,
    null,
    'Conductor of the home run where the run has its own; on the first row of the run.',
  ),
  own(
    'dataOutput',
    'Runledger data output',
    'text',
    null,
    null,
    'Splitter output that feeds the data line of the run; on the first row of the run.',
  ),
  fromTable('rowId'),
];

/** Said under Findings in the row of a fixture that was taken out of the job; it is no fixture then. */
export const NO_LONGER_IN_JOB = 'no longer in the job';

/** Written behind a title that stands in the engineer's own headers already. */
const ownSuffix = ', Runledger';

/** `Volts here (V)`, `Span (ft)`: a title with its unit in brackets. */
export function headerWithUnit(
  title: string,
  unit: string | null,
  displayUnit: LengthUnit,
): string {
  if (unit === null) return title;
  return `${title} (${unit === 'length' ? displayUnit : unit})`;
}

const sameHeader = (header: string): string => header.trim().replace(/\s+/gu, ' ').toLowerCase();

/** A header not among those taken, which it joins. */
export function freeHeader(header: string, taken: Set<string>): string {
  let free = header;
  for (let n = 1; taken.has(sameHeader(free)); n += 1) {
    free = n === 1 ? `${header}${ownSuffix}` : `${header}${ownSuffix} ${n}`;
  }
  taken.add(sameHeader(free));
  return free;
}

const keyByTitle: ReadonlyMap<string, OwnColumnKey> = new Map(
  ownColumns.map((column) => [sameHeader(column.title), column.key]),
);

function ownKeyOf(header: string): OwnColumnKey | null {
  const bare = sameHeader(header)
    .replace(/, runledger(?: \d+)?$/u, '')
    .replace(/ \([^()]*\)$/u, '');
  return keyByTitle.get(bare) ?? null;
}

/** A header such as our export writes: no word of the engineer's for telling where their header stands. */
export function isOwnHeader(header: string): boolean {
  return ownKeyOf(header) !== null;
}

/**
 * Which headers of a sheet are columns of ours, by place in the list. Empty where the sheet has no
 * `Runledger id`: then it did not come from our export and every header is the engineer's. Where a
 * title stands twice the right-hand one is ours.
 */
export function findOwnColumns(headers: readonly string[]): Map<number, OwnColumnKey> {
  const places = new Map<OwnColumnKey, number>();
  headers.forEach((header, place) => {
    const key = ownKeyOf(header);
    if (key !== null) places.set(key, place);
  });
  if (!places.has('rowId')) return new Map();
  return new Map([...places].map(([key, place]) => [place, key]));
}

const titleOf: ReadonlyMap<string, string> = new Map(columns.map((c) => [c.id, c.title]));
const idOf: ReadonlyMap<string, string> = new Map(columns.map((c) => [sameHeader(c.title), c.id]));

export interface LocksOfRow {
  readonly fixture: readonly string[];
  /** Locks of the row's run; written on its first row only. */
  readonly run: readonly string[];
}

const lockWords = (locks: readonly string[]): string =>
  locks.map((lock) => titleOf.get(lock) ?? lock).join(', ');

/** `Universe, Start address; run: Home run`; empty text where nothing is locked. */
export function locksToText(locks: LocksOfRow): string {
  const parts = [];
  if (locks.fixture.length > 0) parts.push(lockWords(locks.fixture));
  if (locks.run.length > 0) parts.push(`run: ${lockWords(locks.run)}`);
  return parts.join('; ');
}

/** Reads what `locksToText` writes; a word that is no column's title is kept as it stands. */
export function locksFromText(text: string): LocksOfRow {
  const fixture: string[] = [];
  const run: string[] = [];
  for (const part of text.split(';')) {
    const ofRun = /^\s*run:/iu.test(part);
    for (const word of part.replace(/^\s*run:/iu, '').split(',')) {
      const lock = word.trim();
      if (lock !== '') (ofRun ? run : fixture).push(idOf.get(sameHeader(lock)) ?? lock);
    }
  }
  return { fixture, run };
}
