/** Sheet names as workbooks allow them. */

const LONGEST_NAME = 31;

/** Names a spreadsheet program keeps for itself. */
const KEPT_NAMES: ReadonlySet<string> = new Set(['history']);

/** Letters of the alphabet's end where a name is cut never leave half a surrogate pair. */
function cut(name: string, length: number): string {
  const shorter = name.slice(0, length);
  return /[\uD800-\uDBFF]$/u.test(shorter) ? shorter.slice(0, -1) : shorter;
}

/**
 * `wanted` made legal (31 characters, none of `: \ / ? * [ ]`, no control characters, no outer
 * apostrophe or blank) and different from every name in `taken`, whatever the case. Joins `taken`.
 */
export function freeSheetName(wanted: string, taken: Set<string>): string {
  const legal = wanted
    .replace(/[\p{Cc}:\\/?*[\]]/gu, ' ')
    .replace(/\s+/gu, ' ')
    .replace(/^[\s']+|[\s']+$/gu, '');
  const base = legal === '' ? 'Schedule' : legal;
  const isTaken = (name: string) =>
    taken.has(name.toLowerCase()) || KEPT_NAMES.has(name.toLowerCase());
  let name = cut(base, LONGEST_NAME).replace(/[\s']+$/u, '');
  for (let n = 2; isTaken(name); n += 1) {
    const ending = ` ${n}`;
    name = `${cut(base, LONGEST_NAME - ending.length)}${ending}`;
  }
  taken.add(name.toLowerCase());
  return name;
}
