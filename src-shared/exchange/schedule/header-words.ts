/** A header's words and the unit written in it. */
import { matchUnit } from '../../units/match-unit.ts';
import { normaliseText } from '../../units/normalise-text.ts';
import type { Dimension } from '../../units/quantity.ts';

/** Words beyond this tell nothing more: a cell may hold 32,767 characters, and many are looked at. */
const LONGEST_HEADER = 500;

/** Lower case, no punctuation, single blanks: `Span (K)` → `span k`. */
export function headerWords(text: string): string {
  return normaliseText(text.length > LONGEST_HEADER ? text.slice(0, LONGEST_HEADER) : text)
    .toLowerCase()
    .replace(/[^\p{L}\p{N}^]+/gu, ' ')
    .trim();
}

const brackets = /[([{]([^)\]}]*)[)\]}]/gu;

/** Words without what stands in brackets. */
export function wordsOutsideBrackets(text: string): string {
  return headerWords(normaliseText(text).replace(brackets, ' '));
}

function wholeUnit(text: string): ReturnType<typeof matchUnit> {
  const found = text === '' ? null : matchUnit(text, 0);
  return found !== null && (found.end === text.length || text[found.end] === ' ') ? found : null;
}

/** Words that are units, behind or before the name; `in` counts in brackets only ("Lead-in"). */
function looseUnits(words: string): { readonly unit: string; readonly dimension: Dimension }[] {
  return words.split(' ').flatMap((word) => {
    const found = word === 'in' || word === 'at' || word === 'c' ? null : wholeUnit(word);
    if (found === null || found.end !== word.length) return [];
    return [{ unit: found.unit.unit, dimension: found.unit.dimension }];
  });
}

/**
 * The unit a header states for a quantity of one of `dimensions`: in brackets first (`Span [m]`,
 * `Lead-in (ft c/c)`), else the last word that is one (`Span ft`, `W max`). Null when none is.
 */
export function headerUnit(text: string, dimensions: readonly Dimension[]): string | null {
  for (const found of normaliseText(text).matchAll(brackets)) {
    const unit = wholeUnit((found[1] ?? '').trim());
    if (unit !== null && dimensions.includes(unit.unit.dimension)) return unit.unit.unit;
  }
  const perLength = dimensions.includes('resistancePerLength') ? ohmPerLength(text) : null;
  if (perLength !== null) return perLength;
  const loose = looseUnits(wordsOutsideBrackets(text));
  return loose.filter((u) => dimensions.includes(u.dimension)).at(-1)?.unit ?? null;
}

function ohmPerLength(text: string): string | null {
  const normal = normaliseText(text);
  const at = normal.search(/(?:m|milli)?(?:ohm|Ω)/iu);
  const found = at < 0 ? null : matchUnit(normal, at);
  return found?.unit.dimension === 'resistancePerLength' ? found.unit.unit : null;
}

/** Words without units of `dimensions` at either end; null when nothing would be left or changed. */
export function withoutUnits(words: string, dimensions: readonly Dimension[]): string | null {
  const list = words.split(' ');
  const isUnit = (word: string | undefined) =>
    word !== undefined && looseUnits(word).some((u) => dimensions.includes(u.dimension));
  while (list.length > 1 && isUnit(list.at(-1))) list.pop();
  while (list.length > 1 && isUnit(list[0])) list.shift();
  const left = list.join(' ');
  return left === words ? null : left;
}
