/** `1-4`: the slots a fixture takes, written in the place of its start address. */
import { normaliseText } from '../../units/normalise-text.ts';

/** What a hyphen in the start addresses of a file means: universe and slot, or slots taken. Null: nothing says it. */
export type HyphenHabit = 'pair' | 'range' | null;

/** First and last slot of `1-4`, `1–4`, `1 to 4`; null: the text is none of these. */
export function slotRange(text: string): { first: number; last: number; word: boolean } | null {
  const found = /^(\d{1,6}) ?(-|to|thru|through) ?(\d{1,6})$/iu.exec(normaliseText(text));
  if (found === null) return null;
  const [first, last] = [Number(found[1]), Number(found[3])];
  return first >= 1 && last >= first ? { first, last, word: found[2] !== '-' } : null;
}
