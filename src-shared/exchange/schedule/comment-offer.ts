/** The value a comment says its cell should have: offered, never read. */
import type { SourceColumnId } from '../../columns/column-table.ts';
import { columnById } from '../../columns/column-table.ts';
import { parseConductorSize } from '../../units/conductor-size.ts';
import { normaliseText } from '../../units/normalise-text.ts';
import { parseQuantity } from '../../units/parse-quantity.ts';
import type { QuantityKind } from '../../units/quantity.ts';
import { looseKey } from './cell-text.ts';

/** Words that say: what follows is to be taken. */
const directive =
  /(?:^|[\s,;:.(])(?:now|should (?:be|read)|(?:is )?to be|must be|change[sd]? to|becomes?|corrected to|make(?: it)?|read(?: as)?|actually(?: is)?|new value|->|→|=)\s*:?\s*(.+)$/iu;
/** "A-13 not A-12". */
const notThat = /(?:^|\s)(\S+?),? not (\S+)/iu;
const MOST_WORDS = 4;
const LONGEST_BARE_COMMENT = 24;

const quantityKindOf: Readonly<Record<string, QuantityKind>> = {
  length: 'length',
  power: 'power',
  voltage: 'voltage',
  current: 'current',
  leakage: 'leakage',
};
/** Columns whose words are a name in one word. */
const names: ReadonlySet<SourceColumnId> = new Set<SourceColumnId>([
  'type', 'run', 'panel', 'circuit', 'line', 'shareSet',
]); // biome-ignore format: a list

const channels = /^(\d{1,3})[ -]?(?:ch|chs|channels?|slots?)\.?$/iu;

/** Channels as the cell writes them: `5 ch` gives `9 ch`. */
function inStyleOf(count: string, cellText: string): string {
  const style = /^\d{1,3}(\s*-?\s*(?:ch|chs|channels?|slots?)\b.*)$/iu.exec(cellText.trim())?.[1];
  return `${count}${style ?? 'ch'}`;
}

function ofWords(id: SourceColumnId, text: string, cellText: string): string | null {
  if (id === 'mode') {
    const count = channels.exec(text)?.[1];
    return count === undefined ? null : inStyleOf(count, cellText);
  }
  if (id === 'conductor') return parseConductorSize(text).ok ? text : null;
  if (id === 'tag') return /^[^\s,;]*\d[^\s,;]*$/u.test(text) && !/^\d+$/u.test(text) ? text : null;
  if (!names.has(id)) return null;
  return /^[^\s,;]*\d[^\s]*$/u.test(text) || /^\p{Lu}{1,6}$/u.test(text) ? text : null;
}

function ofCount(id: SourceColumnId, text: string): string | null {
  if (id === 'footprint') return /^\d{1,3}$/u.exec(text)?.[0] ?? channels.exec(text)?.[1] ?? null;
  if (id === 'address' && /^\d{1,4}[/.]\d{1,3}$/u.test(text)) return text;
  return /^\d{1,5}$/u.test(text) ? text : null;
}

/** The text as a value of the column; null when it is none. */
function valueIn(id: SourceColumnId, text: string, cellText: string): string | null {
  const { kind } = columnById(id);
  if (kind === 'text') return ofWords(id, text, cellText);
  if (kind === 'integer') return ofCount(id, text);
  if (id === 'powerFactor') return /^(?:0[.,]\d{1,3}|1(?:[.,]0+)?)$/u.test(text) ? text : null;
  const quantity = quantityKindOf[kind];
  if (quantity === undefined) return null;
  const parsed = parseQuantity(text, quantity, { defaultUnit: null, decimal: 'either' });
  return parsed.ok && parsed.unit !== null && parsed.value >= 0 ? text : null;
}

const bare = (text: string): string => text.replace(/^["'(]+|[.,;:!)"]+$/gu, '').trim();

/** The longest beginning of the words that is a value. */
function beginning(id: SourceColumnId, words: string, cellText: string): string | null {
  const list = words.trim().split(/\s+/u).slice(0, MOST_WORDS);
  for (let count = list.length; count > 0; count -= 1) {
    const part = list
      .slice(0, count)
      .join(' ')
      .replace(/[.,;:!]+$/u, '');
    const value = valueIn(id, part, cellText) ?? valueIn(id, bare(part), cellText);
    if (value !== null) return value;
  }
  return null;
}

/**
 * What a comment says its cell should be: "now 9-ch mode" on a mode, "now 14 W" on a load, "A-13 not
 * A-12" on the tag A-12. Null where it does not say so, or says what stands there.
 */
export function offerFromComment(
  comment: string,
  id: SourceColumnId,
  cellText: string,
): string | null {
  const text = normaliseText(comment).replace(/\s+/gu, ' ').trim();
  const differs = (value: string | null): string | null =>
    value === null || looseKey(value) === looseKey(cellText) ? null : value;
  const swap = notThat.exec(text);
  if (swap?.[1] !== undefined && looseKey(bare(swap[2] ?? '')) === looseKey(cellText)) {
    return differs(valueIn(id, bare(swap[1]), cellText));
  }
  const told = directive.exec(text)?.[1];
  if (told !== undefined) return differs(beginning(id, told, cellText));
  const whole = text.length <= LONGEST_BARE_COMMENT ? valueIn(id, bare(text), cellText) : null;
  return differs(whole);
}
