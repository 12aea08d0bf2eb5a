/** Tags that stand for several fixtures. */

/** No range or quantity makes more fixtures than this out of one row. */
export const MOST_FIXTURES_A_ROW = 1000;

/** A longer text is no range and no counted name; matching it would take the square of its length. */
const LONGEST_NAME = 200;

const spaced = /^(.*?)(\d+)\s*(?:–|—|…|\.{2,3}|\s-\s|\s(?:to|thru|through|bis)\s)\s*(.*?)(\d+)$/iu;
const hyphened = /^(.+?)(\d+)-(.+?)(\d+)$/u;

/**
 * The tags of a range such as `A-01–A-12`, `A-01 to A-12`, `A-01-A-12`; null when the text is none.
 * A plain hyphen counts only between two whole tags: `A-01-12` is one tag. A bare end (`A-01–12`)
 * counts only when `quantity` agrees: the dash may belong to the tag.
 */
export function tagsOfRange(text: string, quantity: number | null): string[] | null {
  if (text.length > LONGEST_NAME) return null;
  const found = spaced.exec(text) ?? hyphened.exec(text);
  if (found === null) return null;
  const [, prefix = '', first = '', again = '', last = ''] = found;
  const hyphen = spaced.exec(text) === null;
  const samePrefix = again.trim() === prefix.trim();
  const bareEnd = again === '' && prefix !== '';
  if (bareEnd ? hyphen : !samePrefix || (prefix === '' && hyphen)) return null;
  if (first.length > 6 || last.length > 6) return null;
  const from = Number(first);
  const to = Number(last);
  if (to <= from || to - from + 1 > MOST_FIXTURES_A_ROW) return null;
  if (bareEnd && quantity !== to - from + 1) return null;
  const width = first.startsWith('0') || first.length === last.length ? first.length : 0;
  return Array.from({ length: to - from + 1 }, (_, i) => {
    return `${prefix.trimStart()}${String(from + i).padStart(width, '0')}`;
  });
}

/** One of several tags in a cell: letters and what else stands before its number, then the number. */
const oneOfList = /^(.*\p{L}.*?)(\d+)$/u;

/**
 * The tags of a list such as `A-13, A-14` or `A-13 & A-14`; null when the text is none. Every part has
 * to be a whole tag with the same beginning: `A-13,14` and `LP-1, A-2` are one tag each.
 */
export function tagsOfList(text: string): string[] | null {
  if (text.length > LONGEST_NAME) return null;
  const parts = text.split(/\s*[,;&+\n]\s*/u);
  if (parts.length < 2 || new Set(parts).size < parts.length) return null;
  const [first] = parts;
  const beginning = oneOfList.exec(first ?? '')?.[1];
  return parts.every((part) => oneOfList.exec(part)?.[1] === beginning && beginning !== undefined)
    ? parts
    : null;
}

/** `count` tags made from a word: `F3-01` … `F3-14`; those in `taken` are left out, in small letters too. */
export function generatedTags(base: string, count: number, taken: ReadonlySet<string>): string[] {
  const width = String(count).length;
  const tags: string[] = [];
  for (let n = 1; tags.length < count; n += 1) {
    const tag = `${base}-${String(n).padStart(width, '0')}`;
    if (!taken.has(tag) && !taken.has(tag.toLowerCase())) tags.push(tag);
  }
  return tags;
}

const counted =
  /^(.*\S)\s*[([]\s*(?:qty\.?|quantity|no\.?|x|×)?\s*[:=]?\s*(\d{1,4})\s*(?:x|×|off|no\.?|nos\.?|pcs?\.?|ea\.?)?\s*[)\]]$/iu;
const saysCount = /qty|quantity|[([]\s*(?:x|×|no)|(?:x|×|off|nos?\.?|pcs?\.?|ea\.?)\s*[)\]]$/iu;

/** A name with a quantity behind it, `W5 (qty 2)`, `W5 (2 off)`; null: none is said. */
export function quantityInWords(text: string): { name: string; count: number } | null {
  const found = text.length > LONGEST_NAME ? null : counted.exec(text);
  if (found?.[1] === undefined || !saysCount.test(text)) return null;
  const count = Number(found[2]);
  return count < 1 || count > MOST_FIXTURES_A_ROW ? null : { name: found[1], count };
}
