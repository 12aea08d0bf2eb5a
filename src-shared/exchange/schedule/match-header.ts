/** Which column a header text stands for. */
import type { ColumnKind, SourceColumnId } from '../../columns/column-table.ts';
import { columnById, columns, isSourceColumnId } from '../../columns/column-table.ts';
import type { Dimension } from '../../units/quantity.ts';
import { headerUnit, headerWords, withoutUnits, wordsOutsideBrackets } from './header-words.ts';

export interface HeaderMatch {
  /** `unclear`: a DMX column that may hold start addresses or footprints. */
  readonly id: SourceColumnId | 'unclear';
  /** 0: the column's own title; else the place in its list of words. Lower is surer. */
  readonly rank: number;
  readonly unit: string | null;
}

/** Headers that do not say whether they hold start addresses or footprints; the values decide. */
const unclearHeaders = new Set([
  'dmx', 'channel', 'dmx channel', 'chan', 'dmx no', 'dmx number', 'dmx value', 'control channel',
]); // biome-ignore format: a list

const synonyms = new Map<string, { id: SourceColumnId; rank: number }>();
for (const column of columns) {
  if (!isSourceColumnId(column.id)) continue;
  const id = column.id;
  const words = [headerWords(column.title), ...column.headers.map(headerWords)];
  words.forEach((word, rank) => {
    if (!synonyms.has(word)) synonyms.set(word, { id, rank });
  });
}

const dimensionsOf: Readonly<Partial<Record<ColumnKind, readonly Dimension[]>>> = {
  length: ['length'],
  power: ['power', 'current'],
  voltage: ['voltage'],
  current: ['current'],
  leakage: ['current'],
  percent: ['percent'],
};

/** Dimensions of the units a column's header may state; none for text and counts. */
export function unitDimensions(id: SourceColumnId): readonly Dimension[] {
  return dimensionsOf[columnById(id).kind] ?? [];
}

/** A longer text heads no column; a cell may hold 32,767 characters, and many may be looked at. */
const LONGEST_HEADER = 500;

const anyDimension: readonly Dimension[] = ['length', 'power', 'current', 'voltage'];

/** Unit of a conductor size named in the header: `AWG` or `mm²`. */
function sizeUnit(words: string): string | null {
  if (/\b(?:awg|gauge)\b/u.test(words)) return 'AWG';
  return /mm\^?2|\bcsa\b|\bsq ?mm\b|\bmm sq\b/u.test(words) ? 'mm²' : null;
}

const slotColumns = new Set<string>(['universe', 'address', 'mode', 'footprint']);

function lookUp(words: string): { id: SourceColumnId | 'unclear'; rank: number } | null {
  if (unclearHeaders.has(words)) return { id: 'unclear', rank: 50 };
  const direct = synonyms.get(words);
  if (direct !== undefined) return direct;
  const behindDmx = words.startsWith('dmx ') ? synonyms.get(words.slice(4)) : undefined;
  if (behindDmx !== undefined && slotColumns.has(behindDmx.id)) return behindDmx;
  const short = words.replace(/(?: (?:nr|max|nominal|nom|each|per fixture|rating))+$/u, '');
  return short === words ? null : (synonyms.get(short) ?? null);
}

function matchText(text: string): HeaderMatch | null {
  if (text.length > 80 || !/\p{L}/u.test(text)) return null;
  const whole = headerWords(text);
  const outside = wordsOutsideBrackets(text);
  const seen = new Set<string>();
  for (const words of [whole, outside]) {
    if (words === '' || seen.has(words)) continue;
    seen.add(words);
    const found = lookUp(words);
    if (found !== null) return withUnit(text, words, found);
  }
  for (const words of [whole, outside]) {
    const found = lookUp(words.replace(/ (?:awg|mm\^?2|sq mm|mm sq)$/u, ''));
    if (found?.id === 'conductor') return withUnit(text, words, found);
  }
  for (const words of [outside, whole]) {
    const left = withoutUnits(words, anyDimension);
    const found = left === null ? null : lookUp(left);
    if (found === null || found.id === 'unclear') continue;
    // "Circuit A" is no circuit column: the unit has to be one of the column's.
    if (withoutUnits(words, unitDimensions(found.id)) === left) return withUnit(text, words, found);
  }
  return null;
}

function withUnit(
  text: string,
  words: string,
  found: { id: SourceColumnId | 'unclear'; rank: number },
): HeaderMatch {
  if (found.id === 'unclear') return { ...found, unit: null };
  if (found.id === 'conductor')
    return { ...found, unit: sizeUnit(words) ?? sizeUnit(headerWords(text)) };
  return { ...found, unit: headerUnit(text, unitDimensions(found.id)) };
}

const memo = new Map<string, HeaderMatch | null>();

/** The column a header stands for, by the words of the column table; null when none fits. Memoised. */
export function matchHeader(text: string): HeaderMatch | null {
  if (text.length > LONGEST_HEADER) return null;
  let match = memo.get(text);
  if (match === undefined) {
    match = matchText(text);
    if (memo.size > 5000) memo.clear();
    memo.set(text, match);
  }
  return match;
}

/** True when a text is only a unit: `ft`, `(W)`. */
export function isOnlyUnit(text: string): boolean {
  if (text.length > LONGEST_HEADER) return false;
  const words = headerWords(text);
  return words !== '' && !words.includes(' ') && headerUnit(text, anyDimension) !== null;
}

/** What stands between the two parts of a header written in one cell. */
const JOINT = ' / ';

/**
 * The parts of a header that says `Upper / Lower` in one cell, as a schedule of ours has it that
 * came with a two-row header: where the lower part stands for a column. Null: not such a header.
 */
export function splitHeader(text: string): { upper: string; lower: string } | null {
  if (text.length > LONGEST_HEADER || !text.includes(JOINT) || matchHeader(text) !== null)
    return null;
  let at = text.lastIndexOf(JOINT);
  while (at > 0) {
    const upper = text.slice(0, at).trimEnd();
    const lower = text.slice(at + JOINT.length).trimStart();
    // Put together again it must be what stands in the cell.
    const whole = upper !== lower && `${upper}${JOINT}${lower}` === text;
    if (whole && matchJoinedHeader(upper, lower) !== null) return { upper, lower };
    at = text.lastIndexOf(JOINT, at - 1);
  }
  return null;
}

/** A match by one part of a header gives way to one of the same words alone. */
const PART = 0.5;

/**
 * The column a two-row header stands for: the two together, else the lower one, else the upper one
 * where the lower is a unit or empty.
 */
export function matchJoinedHeader(upper: string, lower: string): HeaderMatch | null {
  if (upper.length + lower.length > LONGEST_HEADER) return null;
  if (upper === '' || lower === '') return matchHeader(upper === '' ? lower : upper);
  const both = matchHeader(`${upper} ${lower}`);
  if (both !== null && both.id !== 'unclear') return both;
  const part = matchPart(upper, lower);
  // "DMX" over "Channel" says no more than its lower part, unless that is quite clear.
  return both === null || (part !== null && slotColumns.has(part.id)) ? part : both;
}

function matchPart(upper: string, lower: string): HeaderMatch | null {
  if (isOnlyUnit(lower)) {
    const above = matchHeader(upper);
    if (above !== null && above.id !== 'unclear') {
      const unit = headerUnit(lower, unitDimensions(above.id));
      if (unit !== null) return { ...above, unit };
    }
  }
  const below = matchHeader(lower);
  if (below === null) return null;
  const rank = below.rank + PART;
  if (below.id === 'unclear' || below.unit !== null) return { ...below, rank };
  return { ...below, rank, unit: headerUnit(upper, unitDimensions(below.id)) };
}
