/** Which sheets of a workbook are one schedule together: floors as tabs, not an older revision beside. */
import { looseKey } from './cell-text.ts';
import { type RankedSheet, tagsOf } from './rank-sheets.ts';

/** Part of the columns recognised on either sheet that both have. */
const ALIKE = 0.75;
const FEWEST_SHARED = 3;
/** Part of a sheet's tags that may stand on another sheet too: a row was copied. */
const TAGS_IN_COMMON = 0.1;
/** On a sheet with fewer tags none may. */
const FEW_TAGS = 5;

const laidAside =
  /\b(?:old|superseded|previous|prev|archived?|backup|copy|draft|void|not used)\b/iu;

function headersAgree(a: RankedSheet, b: RankedSheet): boolean {
  const shared = [...a.header.ids].filter((id) => b.header.ids.has(id)).length;
  const either = a.header.ids.size + b.header.ids.size - shared;
  return shared >= Math.min(FEWEST_SHARED, a.header.ids.size) && shared >= either * ALIKE;
}

/** `L42 (2)` beside `L42`: the name a spreadsheet gives a sheet that was copied. */
function isCopy(name: string, names: ReadonlySet<string>): boolean {
  const original = /^(.*\S)\s*\(\d+\)$/u.exec(name)?.[1];
  return original !== undefined && names.has(looseKey(original));
}

/** `b` of `Schedule rev. B`; null: the name speaks of no revision. */
function revisionIn(name: string): string | null {
  return /\brev(?:ision)?\.?\s*-?_?([a-z0-9]{1,3})\b/u.exec(looseKey(name))?.[1] ?? null;
}

function overlap(tags: ReadonlySet<string>, seen: ReadonlySet<string>): boolean {
  const common = [...tags].filter((tag) => seen.has(tag)).length;
  const fewer = Math.min(tags.size, seen.size);
  return common > (fewer < FEW_TAGS ? 0 : Math.max(1, fewer * TAGS_IN_COMMON));
}

/**
 * The sheets that make one schedule with `best`: their headers agree in the main, they hold other
 * tags, and no name speaks of another revision. Hidden and supporting sheets are never joined.
 */
export function joinSheets(best: RankedSheet, others: readonly RankedSheet[]): RankedSheet[] {
  const together = [best];
  if (best.aside > 0) return together;
  const seen = tagsOf(best);
  const names = new Set([best, ...others].map(({ sheet }) => looseKey(sheet.name)));
  for (const other of others) {
    const { name } = other.sheet;
    if (other.aside > 0 || !other.hasRows || !headersAgree(best, other)) continue;
    if (laidAside.test(name) || isCopy(name, names)) continue;
    if (revisionIn(name) !== revisionIn(best.sheet.name)) continue;
    const tags = tagsOf(other);
    if (overlap(tags, seen)) continue;
    together.push(other);
    for (const tag of tags) seen.add(tag);
  }
  return together;
}

/** Names of sheets whose tags stand on one that is read: another revision. */
export function withSameTags(
  read: readonly RankedSheet[],
  others: readonly RankedSheet[],
): ReadonlySet<string> {
  if (others.length === 0) return new Set();
  const seen = new Set(read.flatMap((ranked) => [...tagsOf(ranked)]));
  const same = others.filter((other) => overlap(tagsOf(other), seen));
  return new Set(same.map(({ sheet }) => sheet.name));
}
