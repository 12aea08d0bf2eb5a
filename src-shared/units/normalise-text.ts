/** One spelling for the many characters a workbook uses for the same thing. */

/** Longest text that is read as a quantity. */
export const LONGEST_QUANTITY_TEXT = 200;

const spaces = /[\s\u00A0\u1680\u2000-\u200A\u202F\u205F\u3000]+/gu;
const invisible = /[\u00AD\u200B-\u200F\u202A-\u202E\u2060-\u2064\uFEFF]/gu;

const replacements: readonly (readonly [RegExp, string])[] = [
  [/[\u2010-\u2015\u2212\uFE58\uFE63\uFF0D]/gu, '-'],
  [/''|′′|’’|‘‘|[\u2033\u201C\u201D\u201E\u201F\u02BA\uFF02]/gu, '"'],
  [/[\u2032\u2018\u2019\u201B\u02B9\u00B4`\uFF07]/gu, "'"],
  [/[\u2126\u03A9]/gu, 'Ω'],
  [/[\u00B5\u03BC]/gu, 'µ'],
  [/[\u03D5\u03A6\u00F8\u00D8\u2300\u2205]/gu, 'φ'],
  [/\u2103/gu, '°C'],
  [/\u2109/gu, '°F'],
  [/[\u00BA\u02DA]/gu, '°'],
  [/\u2044|\u2215/gu, '/'],
  [/[\u00D7\u2715\u2A2F]/gu, '×'],
  [/[\u00B7\u2219\u22C5\u2217]/gu, '*'],
  [/\u2264/gu, '<='],
  [/\u2265/gu, '>='],
  [/\u2248|\u223C/gu, '~'],
  [/\u00B2/gu, '^2'],
];

// Unicode vulgar fractions, U+00BC–BE and U+2150–215E.
const vulgarFractions: Readonly<Record<string, string>> = {
  '¼': '1/4', '½': '1/2', '¾': '3/4', '⅓': '1/3', '⅔': '2/3', '⅙': '1/6', '⅚': '5/6',
  '⅛': '1/8', '⅜': '3/8', '⅝': '5/8', '⅞': '7/8',
}; // biome-ignore format: a table

/**
 * Spaces of any width become one blank, invisible marks vanish, and dashes, primes, quotes, Ω, µ,
 * φ, °, fractions and full-width characters get one spelling each. Nothing that changes a number:
 * superscripts other than ² stay as they are.
 */
export function normaliseText(text: string): string {
  let out = text
    .replace(invisible, '')
    .replace(/[\uFF01-\uFF5E]/gu, (c) => String.fromCodePoint((c.codePointAt(0) ?? 0) - 0xfee0))
    .replace(/[¼½¾⅓⅔⅙⅚⅛⅜⅝⅞]/gu, (c) => ` ${vulgarFractions[c] ?? c}`);
  for (const [pattern, by] of replacements) out = out.replace(pattern, by);
  return out.replace(spaces, ' ').trim();
}
