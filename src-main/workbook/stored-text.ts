/** Text as it must be stored to come back unchanged, and to stay text. */

/** Most characters a cell holds. */
const LONGEST_TEXT = 32_767;

const escapeLike = /_(?=x[0-9A-Fa-f]{4}_)/g;
// Control characters XML 1.0 does not have, and the return that parsers turn into a line feed.
const unstorable = /[^\P{Cc}\t\n]|[\uFFFE\uFFFF]/gu;
const loneSurrogate = /[\uD800-\uDBFF](?![\uDC00-\uDFFF])|(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/g;

const escaped = (c: string): string =>
  `_x${c.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')}_`;

/**
 * A text as ECMA-376 stores it (part 1, 22.9.2.19, ST_Xstring): control characters as `_x000D_`,
 * and what only looks like such an escape escaped itself. Cut at the length a cell can hold.
 */
export function storedText(text: string): string {
  const whole = text.length > LONGEST_TEXT ? `${text.slice(0, LONGEST_TEXT - 1)}…` : text;
  return whole
    .replace(escapeLike, '_x005F_')
    .replace(unstorable, escaped)
    .replace(loneSurrogate, '\uFFFD');
}

/** Text that a spreadsheet program would take for a formula if it were typed or came from csv. */
export function looksLikeFormula(text: string): boolean {
  return /^[=+\-@\t\r]/.test(text);
}
