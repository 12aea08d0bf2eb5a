/** Finds a unit at a place in a text. */
import { type UnitOfQuantity, unitNamed, unitTable } from './quantity.ts';

export interface MatchedUnit {
  readonly unit: UnitOfQuantity;
  /** As written, lower case. */
  readonly spelling: string;
  /** Index behind the unit. */
  readonly end: number;
}

const wordIndex = new Map<string, UnitOfQuantity>();
const symbolIndex = new Map<string, UnitOfQuantity>();
let longest = 0;
for (const entry of unitTable) {
  for (const word of entry.words) wordIndex.set(word, entry);
  for (const symbol of entry.symbols) symbolIndex.set(symbol, entry);
  for (const spelling of [...entry.words, ...entry.symbols]) {
    longest = Math.max(longest, spelling.length);
  }
}

// Ohm per length: "6.5 ohm/km", "1.98 Ω/1,000 ft", "7.98 ohms per km", "3 mΩ/m".
const ohmPerLength =
  /(m(?=[oΩ])|m(?=ohm)|milli)?(?:ohms?|Ω) ?(?:\/|per\b) ?(1 ?[,.]? ?000 ?(?:ft\b|feet\b|')|kft\b|km\b|ft\b|foot\b|m\b|met(?:re|er)\b)/iuy;

const lengthName = (text: string): string => {
  const word = text.toLowerCase();
  if (word.startsWith('1') || word === 'kft') return 'kft';
  if (word === 'foot') return 'ft';
  return word.startsWith('met') ? 'm' : word;
};

const isWordPart = (c: string | undefined): boolean => c !== undefined && /[\p{L}\p{N}_°]/u.test(c);

function matchOhmPerLength(text: string, at: number): MatchedUnit | null {
  ohmPerLength.lastIndex = at;
  const found = ohmPerLength.exec(text);
  if (found === null) return null;
  // "M" would be mega: only the small letter is milli.
  if (found[1] === 'M') return null;
  const unit = unitNamed(`${found[1] ? 'm' : ''}ohm/${lengthName(found[2] ?? '')}`);
  if (unit === null) return null;
  return { unit, spelling: found[0].toLowerCase(), end: at + found[0].length };
}

/**
 * The longest unit spelt at `at` in a text that went through `normaliseText`; `null` when none
 * stands there as a whole word ("max" is not metres).
 */
export function matchUnit(text: string, at: number): MatchedUnit | null {
  const perLength = matchOhmPerLength(text, at);
  if (perLength !== null) return perLength;
  for (let length = Math.min(longest, text.length - at); length > 0; length -= 1) {
    const spelling = text.slice(at, at + length);
    const unit = symbolIndex.get(spelling) ?? wordIndex.get(spelling.toLowerCase());
    if (unit === undefined) continue;
    const last = spelling[spelling.length - 1];
    const next = text.slice(at + length);
    const inchesFollow = unit.unit === 'ft' && /^\d[\d ./]*(?:in|")/iu.test(next);
    if (isWordPart(last) && isWordPart(next[0]) && !inchesFollow) continue;
    return { unit, spelling: spelling.toLowerCase(), end: at + length };
  }
  return null;
}
