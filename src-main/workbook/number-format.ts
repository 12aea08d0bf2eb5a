import { format, getFormatDateInfo, isDateFormat, isValidFormat } from 'numfmt';
import { withoutMark } from '../../src-shared/exchange/export/severity-letters.ts';
import { DAYS_1904_TO_1900, isoFromSerial } from './date-serial.ts';

/** What a number format does to a stored number. */
export interface NumberFormat {
  readonly pattern: string;
  /** `elapsed` is a duration such as `[h]:mm`: a number, not a date. */
  readonly kind: 'general' | 'number' | 'date' | 'time' | 'elapsed';
  /** The pattern shapes text cells too, beyond a plain `@`. */
  readonly shapesText: boolean;
}

export const GENERAL_FORMAT: NumberFormat = {
  pattern: 'General',
  kind: 'general',
  shapesText: false,
};

/** Formats that files name by number only (ECMA-376 part 1, 18.8.30); id 14 is shown as an ISO date. */
const BUILT_IN: ReadonlyMap<number, string> = new Map([
  [1, '0'],
  [2, '0.00'],
  [3, '#,##0'],
  [4, '#,##0.00'],
  [5, '$#,##0;($#,##0)'],
  [6, '$#,##0;[Red]($#,##0)'],
  [7, '$#,##0.00;($#,##0.00)'],
  [8, '$#,##0.00;[Red]($#,##0.00)'],
  [9, '0%'],
  [10, '0.00%'],
  [11, '0.00E+00'],
  [12, '# ?/?'],
  [13, '# ??/??'],
  [14, 'yyyy-mm-dd'],
  [15, 'd-mmm-yy'],
  [16, 'd-mmm'],
  [17, 'mmm-yy'],
  [18, 'h:mm AM/PM'],
  [19, 'h:mm:ss AM/PM'],
  [20, 'h:mm'],
  [21, 'h:mm:ss'],
  [22, 'yyyy-mm-dd h:mm'],
  [27, 'yyyy-mm-dd'],
  [28, 'yyyy-mm-dd'],
  [29, 'yyyy-mm-dd'],
  [30, 'yyyy-mm-dd'],
  [31, 'yyyy-mm-dd'],
  [32, 'h:mm'],
  [33, 'h:mm:ss'],
  [34, 'h:mm'],
  [35, 'h:mm:ss'],
  [36, 'yyyy-mm-dd'],
  [37, '#,##0;(#,##0)'],
  [38, '#,##0;[Red](#,##0)'],
  [39, '#,##0.00;(#,##0.00)'],
  [40, '#,##0.00;[Red](#,##0.00)'],
  [41, '_(* #,##0_);_(* (#,##0);_(* "-"_);_(@_)'],
  [42, '_($* #,##0_);_($* (#,##0);_($* "-"_);_(@_)'],
  [43, '_(* #,##0.00_);_(* (#,##0.00);_(* "-"??_);_(@_)'],
  [44, '_($* #,##0.00_);_($* (#,##0.00);_($* "-"??_);_(@_)'],
  [45, 'mm:ss'],
  [46, '[h]:mm:ss'],
  [47, 'mm:ss.0'],
  [48, '##0.0E+0'],
  [49, '@'],
  [50, 'yyyy-mm-dd'],
  [51, 'yyyy-mm-dd'],
  [52, 'yyyy-mm-dd'],
  [53, 'yyyy-mm-dd'],
  [54, 'yyyy-mm-dd'],
  [55, 'yyyy-mm-dd'],
  [56, 'yyyy-mm-dd'],
  [57, 'yyyy-mm-dd'],
  [58, 'yyyy-mm-dd'],
]);

/** Literal text, escapes and brackets taken out, so that only the working letters remain. */
function workingLetters(pattern: string): string {
  return pattern.replace(/"[^"]*"|\\.|_.|\*./g, '');
}

/** Programs stop at 255 characters (common practice, no source); a longer one is not a format. */
const LONGEST_PATTERN = 255;
/** With the letters of our marks. */
const LONGEST_GIVEN = 2_000;

/** A number format from its pattern; one that cannot be understood counts as General. */
export function numberFormatOf(given: string): NumberFormat {
  // Looked at first: patterns that match in many ways take long on a long text.
  if (given.length > LONGEST_GIVEN) return GENERAL_FORMAT;
  // The letters our own export marks cells with are no part of what a cell says.
  const pattern = withoutMark(given);
  if (/^\s*(general|)\s*$/i.test(pattern)) return GENERAL_FORMAT;
  if (pattern.length > LONGEST_PATTERN || !isValidFormat(pattern)) return GENERAL_FORMAT;
  const letters = workingLetters(pattern);
  const shapesText = letters.includes('@') && pattern.trim() !== '@';
  if (/\[(h+|m+|s+)\]/i.test(letters)) return { pattern, kind: 'elapsed', shapesText };
  if (isDateFormat(pattern)) {
    const shows = getFormatDateInfo(pattern);
    const kind = shows.year || shows.month || shows.day ? 'date' : 'time';
    return { pattern, kind, shapesText };
  }
  // A place tag such as [$€-407] would turn the decimal point into a comma; programs do not do that.
  const placeless = pattern.replace(/\[\$([^\]-]*)-[^\]]*\]/g, (_, sign: string) =>
    sign === '' ? '' : `[$${sign}]`,
  );
  return { pattern: isValidFormat(placeless) ? placeless : pattern, kind: 'number', shapesText };
}

/** The number format of an id, from the file's own list first. */
export function numberFormatById(id: number, own: ReadonlyMap<number, string>): NumberFormat {
  return numberFormatOf(own.get(id) ?? BUILT_IN.get(id) ?? 'General');
}

/** Shortest decimal text that reads back as the same number. */
export function plainNumber(value: number): string {
  return Object.is(value, -0) ? '0' : String(value);
}

/** Text shown for a value; the plain form when the format shows nothing at all. */
export function shownText(value: number | string, numberFormat: NumberFormat): string {
  const plain = typeof value === 'number' ? plainNumber(value) : value;
  if (numberFormat.kind === 'general') return plain;
  try {
    const shown = format(numberFormat.pattern, value, { nbsp: false, locale: 'en-US' }).trim();
    // Optional decimals (`0.##`) leave a bare point behind a whole number; it says nothing.
    const tidy = numberFormat.pattern.includes('.#') ? shown.replace(/(\d)\.(?!\d)/, '$1') : shown;
    return tidy === '' ? plain : tidy;
  } catch {
    return plain;
  }
}

/** A numeric cell as kind, stored value and shown text. */
export interface ReadNumber {
  readonly kind: 'number' | 'date';
  readonly value: number | string;
  readonly text: string;
}

/** Reads a stored number under its format; a date format turns it into ISO text. */
export function readNumber(
  stored: number,
  numberFormat: NumberFormat,
  date1904: boolean,
): ReadNumber {
  const { kind } = numberFormat;
  if (kind === 'date' || kind === 'time') {
    const iso = isoFromSerial(stored, date1904, kind === 'time');
    if (iso === undefined) return { kind: 'number', value: stored, text: plainNumber(stored) };
    const serial = date1904 && kind === 'date' ? stored + DAYS_1904_TO_1900 : stored;
    return { kind: 'date', value: iso, text: shownText(serial, numberFormat) };
  }
  return { kind: 'number', value: stored, text: shownText(stored, numberFormat) };
}
