/** The header of a schedule under its title block: one row, or two that belong together. */
import type { MergedArea, SourceRow, SourceSheet } from '../../document/source-workbook.ts';
import { isOwnHeader } from '../export/own-columns.ts';
import { isBlank, isDash, textOf } from './cell-text.ts';
import { headerWords } from './header-words.ts';
import { isOnlyUnit, matchHeader, matchJoinedHeader, splitHeader } from './match-header.ts';

/** Rows looked at before a sheet is given up. */
const MOST_HEADER_ROWS = 200;
/** Rows still looked at behind a good header, in case a better one follows. */
const ROWS_BEYOND_A_HEADER = 30;

/** One column's header as written. `upper` is empty in a one-row header. */
export interface HeaderText {
  readonly column: number;
  readonly upper: string;
  readonly lower: string;
}

export interface FoundHeader {
  /** The row right above the data: the lower one of two. */
  readonly row: number;
  readonly upperRow: number | null;
  readonly texts: readonly HeaderText[];
  /** Number of different columns recognised. */
  readonly known: number;
  /** Their ids. */
  readonly ids: ReadonlySet<string>;
  readonly hasTag: boolean;
}

/** Header texts the caller has given a column, by loose words; they count as recognised. */
export type MappedHeaders = ReadonlyMap<string, string>;

/** The text of a header as reported: `Upper / Lower`, or the one there is. */
export function joinedText({ upper, lower }: HeaderText): string {
  if (upper === '' || lower === '' || upper === lower) return upper === '' ? lower : upper;
  return `${upper} / ${lower}`;
}

function countKnown(
  texts: readonly HeaderText[],
  mapped: MappedHeaders,
): { known: number; hasTag: boolean; ids: ReadonlySet<string> } {
  const ids = new Set<string>();
  let tagRank = 99;
  for (const text of texts) {
    const given = mapped.get(headerWords(joinedText(text)));
    if (given !== undefined) {
      if (given === '') continue;
      ids.add(given);
      if (given === 'tag') tagRank = 0;
      continue;
    }
    const match = matchJoinedHeader(text.upper, text.lower);
    if (match === null) continue;
    ids.add(match.id);
    if (match.id === 'tag') tagRank = Math.min(tagRank, match.rank);
  }
  // A lone weak word ("Ref", "Item") is no header; a plain "Tag" is.
  const hasTag = ids.has('tag') && (ids.size > 1 || tagRank < 4);
  return { known: ids.size, hasTag, ids };
}

function singleTexts(row: SourceRow): HeaderText[] {
  return row.cells
    .filter((cell) => !isBlank(cell))
    .map((cell) => ({ column: cell.column, upper: '', lower: textOf(cell) }));
}

function areaAt(areas: readonly MergedArea[], column: number): MergedArea | undefined {
  return areas.find((area) => column >= area.firstColumn && column <= area.lastColumn);
}

/** The texts of a header of one row; a cell that says `Upper / Lower` gives both. */
function headerTexts(row: SourceRow): HeaderText[] {
  return singleTexts(row).map((text) => {
    const parts = splitHeader(text.lower);
    return parts === null ? text : { column: text.column, ...parts };
  });
}

/**
 * Both rows' texts by column: a merged group reaches over its columns, an unmerged one to the next
 * or to the end of the filled cells below.
 */
function pairTexts(sheet: SourceSheet, upper: SourceRow, lower: SourceRow): HeaderText[] {
  const above = new Map(singleTexts(upper).map((t) => [t.column, t.lower]));
  const below = new Map(singleTexts(lower).map((t) => [t.column, t.lower]));
  const areas = sheet.merges.filter((m) => m.firstRow <= upper.number && m.lastRow >= upper.number);
  const grouped = areas.some((area) => area.lastColumn > area.firstColumn);
  const width = Math.max(-1, ...above.keys(), ...below.keys()) + 1;
  const texts: HeaderText[] = [];
  let running = '';
  for (let column = 0; column < width; column += 1) {
    const own = above.get(column) ?? '';
    const lowerText = below.get(column) ?? '';
    const area = areaAt(areas, column);
    if (own !== '' || lowerText === '') running = own;
    let upperText = own;
    if (own === '' && area !== undefined) upperText = above.get(area.firstColumn) ?? '';
    else if (own === '' && !grouped && lowerText !== '' && !isOwnHeader(lowerText))
      upperText = running;
    if (lowerText === '' && own === '') continue;
    texts.push({ column, upper: upperText, lower: lowerText });
  }
  return texts;
}

function isHeaderLike(row: SourceRow): boolean {
  // A dash under a header says that it has no unit.
  const filled = row.cells.filter((cell) => !isBlank(cell) && !isDash(textOf(cell)));
  const words = filled.filter((cell) => cell.kind === 'text' && /\p{L}/u.test(cell.text));
  return filled.length > 0 && words.length >= filled.length * 0.9;
}

/** Merged cells of the upper row that group columns of the lower one; a title over them all does not. */
function hasGroups(sheet: SourceSheet, upper: SourceRow, lower: readonly HeaderText[]): boolean {
  const covered = (m: MergedArea) =>
    lower.filter((t) => t.column >= m.firstColumn && t.column <= m.lastColumn);
  const groups = sheet.merges.filter(
    (m) => m.firstRow === upper.number && m.lastColumn > m.firstColumn && covered(m).length > 1,
  );
  const isTitle = (m: MergedArea) =>
    covered(m).length > lower.length * 0.6 ||
    (singleTexts(upper).length === 1 && covered(m).some((t) => matchHeader(t.lower)?.id === 'tag'));
  return groups.length > 0 && !groups.some(isTitle);
}

/** Longest text that may head a group of columns. */
const LONGEST_LABEL = 60;
/** Fewest columns that may each have a label: over one or two it is more likely a title. */
const FEWEST_LABELLED = 3;

/**
 * Labels without merged cells that group the columns of the header below: the first column has none,
 * or every column has one of its own. A title in the first column is no label.
 */
function hasLabels(sheet: SourceSheet, upper: SourceRow, lower: readonly HeaderText[]): boolean {
  const merged = sheet.merges.some(
    (m) => m.firstRow <= upper.number && m.lastRow >= upper.number && m.lastColumn > m.firstColumn,
  );
  const [first] = lower;
  const filled = upper.cells.filter((cell) => !isBlank(cell));
  if (merged || first === undefined || filled.length === 0) return false;
  const columns = new Set(lower.map((text) => text.column));
  const isLabel = filled.every(
    (cell) =>
      cell.kind === 'text' &&
      columns.has(cell.column) &&
      cell.text.length <= LONGEST_LABEL &&
      !cell.text.includes(':'),
  );
  if (!isLabel) return false;
  const leavesFirst = filled.every((cell) => cell.column !== first.column);
  return leavesFirst || (filled.length === columns.size && columns.size >= FEWEST_LABELLED);
}

/** Two rows are one header when together they say more than either, and neither is a row of data. */
function joinPair(
  sheet: SourceSheet,
  upper: SourceRow,
  lower: SourceRow,
  mapped: MappedHeaders,
): FoundHeader | null {
  if (lower.number !== upper.number + 1 || !isHeaderLike(upper) || !isHeaderLike(lower))
    return null;
  const texts = pairTexts(sheet, upper, lower);
  // Our export has its headers in the lower row alone.
  const lowerTexts = singleTexts(lower).filter((t) => !isOwnHeader(t.lower));
  const both = countKnown(texts, mapped);
  const above = countKnown(singleTexts(upper), mapped);
  const below = countKnown(lowerTexts, mapped);
  const units =
    lowerTexts.length > 0 &&
    lowerTexts.every((t) => isOnlyUnit(t.lower) || /^[-–]$/u.test(t.lower));
  const more = both.known > Math.max(above.known, below.known);
  const known = lowerTexts.filter(
    (t) => matchHeader(t.lower) !== null || isOnlyUnit(t.lower),
  ).length;
  const mostlyKnown = known * 2 >= lowerTexts.length;
  const grouping =
    (hasGroups(sheet, upper, lowerTexts) ||
      (below.hasTag && hasLabels(sheet, upper, lowerTexts))) &&
    both.known >= below.known &&
    mostlyKnown &&
    above.known < below.known;
  if (!both.hasTag || !((more && mostlyKnown) || units || grouping)) return null;
  return { row: lower.number, upperRow: upper.number, texts, ...both };
}

function single(row: SourceRow, mapped: MappedHeaders): FoundHeader {
  const texts = headerTexts(row);
  return { row: row.number, upperRow: null, texts, ...countKnown(texts, mapped) };
}

function better(a: FoundHeader | null, b: FoundHeader | null): FoundHeader | null {
  if (a === null || b === null) return a ?? b;
  return b.known > a.known ? b : a;
}

/** The header at a row the caller names: the row alone, or with the one below or above it. */
export function headerAt(
  sheet: SourceSheet,
  rowNumber: number,
  mapped: MappedHeaders,
): FoundHeader | null {
  const at = sheet.rows.findIndex((row) => row.number === rowNumber);
  const row = sheet.rows[at];
  if (row === undefined) return null;
  const [before, after] = [sheet.rows[at - 1], sheet.rows[at + 1]];
  let best: FoundHeader | null = null;
  if (before !== undefined) best = better(best, joinPair(sheet, before, row, mapped));
  if (after !== undefined) best = better(best, joinPair(sheet, row, after, mapped));
  return best ?? single(row, mapped);
}

/** The best header of a sheet with a tag column: most columns recognised, the first of equals. Null when none. */
export function findHeader(sheet: SourceSheet, mapped: MappedHeaders): FoundHeader | null {
  let best: FoundHeader | null = null;
  let bestIndex = 0;
  const rows = sheet.rows.slice(0, MOST_HEADER_ROWS);
  for (const [index, row] of rows.entries()) {
    if (best !== null && index > bestIndex + ROWS_BEYOND_A_HEADER) break;
    const next = rows[index + 1];
    const pair = next === undefined ? null : joinPair(sheet, row, next, mapped);
    const alone = single(row, mapped);
    // A pair wins over its own rows alone: it knows no less.
    const found = pair !== null && pair.known >= alone.known ? pair : alone;
    if (found.hasTag && (best === null || found.known > best.known)) {
      best = found;
      bestIndex = index;
    }
  }
  return best;
}
