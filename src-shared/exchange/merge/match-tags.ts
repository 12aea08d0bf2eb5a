/** Which fixtures of two files are the same, by their tags. */
import { tagKey } from './tag-key.ts';

/** A tag that could mean several fixtures and therefore means none. */
export interface DoubtfulTag {
  /** Places in the first list and in the second. */
  readonly first: readonly number[];
  readonly second: readonly number[];
}

export interface TagMatches {
  /** Place in the second list → place in the first, where the tags are the same as written. */
  readonly exact: ReadonlyMap<number, number>;
  /** The same for tags alike by letters and number. */
  readonly alike: ReadonlyMap<number, number>;
  /** Tags that stand twice as written. */
  readonly doubtfulExact: readonly DoubtfulTag[];
  /** Tags that are alike to several, or to one that is matched. */
  readonly doubtfulAlike: readonly DoubtfulTag[];
}

type Tags = readonly (string | null)[];

function places(tags: Tags, keyOf: (tag: string) => string | null): Map<string, number[]> {
  const found = new Map<string, number[]>();
  tags.forEach((tag, place) => {
    const key = tag === null ? null : keyOf(tag);
    if (key === null) return;
    const list = found.get(key);
    if (list === undefined) found.set(key, [place]);
    else list.push(place);
  });
  return found;
}

/**
 * Matches two lists of tags: the same as written first, then alike among those left. A tag that
 * stands twice in either list, or is alike to two, is matched to nothing.
 */
export function matchTags(first: Tags, second: Tags): TagMatches {
  const exact = new Map<number, number>();
  const alike = new Map<number, number>();
  const doubtfulExact: DoubtfulTag[] = [];
  const doubtfulAlike: DoubtfulTag[] = [];
  const settled = new Set<number>();
  const written = places(first, (tag) => tag);
  for (const [tag, seconds] of places(second, (t) => t)) {
    const firsts = written.get(tag);
    if (firsts === undefined) continue;
    for (const place of seconds) settled.add(place);
    const [one] = firsts;
    const [other] = seconds;
    if (firsts.length === 1 && seconds.length === 1 && one !== undefined && other !== undefined) {
      exact.set(other, one);
    } else doubtfulExact.push({ first: firsts, second: seconds });
  }
  const byKey = places(first, tagKey);
  for (const [key, all] of places(second, tagKey)) {
    const firsts = byKey.get(key);
    const seconds = all.filter((place) => !settled.has(place));
    if (firsts === undefined || seconds.length === 0) continue;
    const [one] = firsts;
    const [other] = seconds;
    const lone = firsts.length === 1 && all.length === 1;
    if (lone && one !== undefined && other !== undefined) alike.set(other, one);
    else doubtfulAlike.push({ first: firsts, second: seconds });
  }
  return { exact, alike, doubtfulExact, doubtfulAlike };
}
