/** Tags that stand for several fixtures. */

/** No range or quantity makes more fixtures than this out of one row. */
export const MOST_FIXTURES_A_ROW = 1000;

const spaced = /^(.*?)(\d+)\s*(?:–|—|…|\.{2,3}|\s-\s|\s(?:to|thru|through|bis)\s)\s*(.*?)(\d+)$/iu;
const hyphened = /^(.+?)(\d+)-(.+?)(\d+)$/u;

/**
 * The tags of a range such as `A-01–A-12`, `A-01 to A-12`, `A-01-A-12`; null when the text is none.
 * A plain hyphen counts only between two whole tags: `A-01-12` is one tag. A bare end (`A-01–12`)
 * counts only when `quantity` agrees: the dash may belong to the tag.
 */
export function tagsOfRange(text: string, quantity: number | null): string[] | null {
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

/** `count` tags made from a word: `F3-01` … `F3-14`; those in `taken` are left out. */
export function generatedTags(base: string, count: number, taken: ReadonlySet<string>): string[] {
  const width = String(count).length;
  const tags: string[] = [];
  for (let n = 1; tags.length < count; n += 1) {
    const tag = `${base}-${String(n).padStart(width, '0')}`;
    if (!taken.has(tag)) tags.push(tag);
  }
  return tags;
}
