/** A cell as words: tags, types, names, circuits, conductors, remarks. */
import type { SourceColumnId } from '../../columns/column-table.ts';
import type { ProfileId } from '../../document/project.ts';
import type { SourceCell } from '../../document/source-workbook.ts';
import { formatConductorSize, parseConductorSize } from '../../units/conductor-size.ts';
import { type CellReading, plain, refused, told } from './cell-reading.ts';
import { cleanText, isDash, whyNoValue } from './cell-text.ts';

/** Columns whose words are names: a date or a dash in them is no name. */
const names: ReadonlySet<SourceColumnId> = new Set<SourceColumnId>([
  'tag', 'type', 'run', 'fedFrom', 'panel', 'circuit', 'protection', 'line', 'conductor', 'mode', 'shareSet',
]); // biome-ignore format: a list

const datelike =
  /^(?:\d{1,2}[-/. ](?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?(?:[-/. ]\d{2,4})?|(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*[-/ ]\d{1,4}|\d{4}-\d{2}-\d{2}(?:[ T].*)?)$/iu;

/** What the other tags of a sheet look like, and the order of day and month its profile writes. */
export interface TagHabit {
  /** How many tags begin with a number and a dash, by that number: `3-2`, `3-3`. */
  readonly leading: ReadonlyMap<number, number>;
  readonly monthFirst: boolean;
}

/** `3-1` and `1-3` for 1 March, the likelier one first; null: no date that can be told. */
function typedBeforeDate(cell: SourceCell, tags: TagHabit): readonly [string, string] | null {
  const found = /^\d{4}-(\d{2})-(\d{2})/u.exec(String(cell.value ?? ''));
  if (found === null) return null;
  const month = Number(found[1]);
  const day = Number(found[2]);
  const monthFirst = `${month}-${day}`;
  const dayFirst = `${day}-${month}`;
  const byMonth = tags.leading.get(month) ?? 0;
  const byDay = tags.leading.get(day) ?? 0;
  const first = byMonth === byDay ? tags.monthFirst : byMonth > byDay;
  return first ? [monthFirst, dayFirst] : [dayFirst, monthFirst];
}

const EATEN = 'the spreadsheet has made a date of what was typed; write it as text';

function ofDate(
  cell: SourceCell,
  text: string,
  column: SourceColumnId,
  tags: TagHabit | null,
): CellReading<string> {
  if (!names.has(column)) return plain(text);
  const typed = tags === null ? null : typedBeforeDate(cell, tags);
  const perhaps = typed === null ? '' : `; it may have been ${typed[0]}, or ${typed[1]}`;
  const reading: CellReading<string> =
    column === 'tag'
      ? told(text, 'guess', `${EATEN}; the date as shown was taken${perhaps}`)
      : refused(`${EATEN}${perhaps}`);
  return typed === null ? reading : { ...reading, offer: typed[0] };
}

function ofNumber(cell: SourceCell, value: number, column: SourceColumnId): CellReading<string> {
  const text = cleanText(cell.text);
  if (Number.isInteger(value) || !names.has(column)) return plain(text);
  if (column === 'circuit') {
    return told(
      text,
      'guess',
      'a number with a point, kept as written; it may have been two poles or have lost a zero',
    );
  }
  if (column === 'tag')
    return told(text, 'guess', 'a number with a point: a zero at its end would be lost');
  return plain(text);
}

/** Reads words as shown. Plain, but for dates and numbers that may not be what was typed; `tags` helps to say what that was. */
export function readTextCell(
  cell: SourceCell,
  column: SourceColumnId,
  tags: TagHabit | null = null,
): CellReading<string> {
  const why = whyNoValue(cell);
  if (why !== null) return refused(why);
  if (cell.kind === 'date') return ofDate(cell, cleanText(cell.text), column, tags);
  if (typeof cell.value === 'number') return ofNumber(cell, cell.value, column);
  const text = cleanText(cell.text);
  if (text === '') return plain<string>(null);
  if (names.has(column)) {
    if (isDash(text)) return told<string>(null, 'sure', 'a dash: nothing stated');
    if (text.length < 24 && datelike.test(text)) return ofDate(cell, text, column, tags);
  }
  return plain(text);
}

/**
 * Reads a conductor size: `12 AWG`, `2.5 mm²`, or a bare number in the header's unit or the
 * profile's. Words that are no size are refused.
 */
export function readConductorCell(
  cell: SourceCell,
  unit: string | null,
  profile: ProfileId,
): CellReading<string> {
  const words = readTextCell(cell, 'conductor');
  if (words.value === null) return words;
  const text = words.value;
  const size = parseConductorSize(text);
  if (size.ok) {
    const name = formatConductorSize(size);
    const same = name.replaceAll(' ', '').toLowerCase() === text.replaceAll(' ', '').toLowerCase();
    if (same && size.notes.length === 0) return plain(name);
    return told(name, 'sure', [`read as ${name}`, ...size.notes]);
  }
  if (/^\d+(?:[.,]\d+)?(?:\/0)?$/u.test(text)) {
    const asked = unit ?? (/[.,]/u.test(text) || profile === 'iec' ? 'mm²' : 'AWG');
    const again = parseConductorSize(`${text} ${asked}`);
    if (again.ok) {
      const name = formatConductorSize(again);
      if (unit !== null) return plain(name);
      return told(name, 'guess', `no unit: read as ${name}`);
    }
  }
  return refused(`${size.reason}; its resistance is not known`);
}

/**
 * The same for a cell of a supporting sheet, where nothing may take the place of words that are no
 * size: they are kept, and no resistance is known for them.
 */
export function readNamedConductor(
  cell: SourceCell,
  unit: string | null,
  profile: ProfileId,
): CellReading<string> {
  const reading = readConductorCell(cell, unit, profile);
  const words = readTextCell(cell, 'conductor');
  if (reading.value !== null || words.value === null) return reading;
  return told(words.value, 'guess', `${reading.note}; kept as written`);
}
