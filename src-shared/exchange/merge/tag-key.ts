/** Tags compared across files: letters, then numbers without separators and leading zeros. */

/**
 * `F_0012`, `F-12`, `f 12` and `F12` give one key; `L4-1` and `L41` two. Null: the tag has no number,
 * and only the same words are the same tag.
 */
export function tagKey(tag: string): string | null {
  const parts = tag
    .normalize('NFKC')
    .toLowerCase()
    .match(/\p{L}+|\d+/gu);
  if (parts === null || !parts.some((part) => /^\d/u.test(part))) return null;
  return parts.map((part) => part.replace(/^0+(?=\d)/u, '')).join('|');
}
