/** Which fixtures of two readings are the same. */
import type { Fixture } from '../../document/project.ts';
import { tagKey } from '../merge/tag-key.ts';
import { madeTagPairs } from './match-made-tags.ts';

/** Part of the stated values that must agree before a fixture with another tag is the same one. */
const ALIKE = 0.6;
const compared = [
  'type', 'run', 'place', 'spanM', 'loadW', 'mode', 'footprint', 'universe', 'address', 'location', 'area', 'description',
] as const; // biome-ignore format: a list

type Pairs = Map<Fixture, Fixture>;

class Matcher {
  readonly pairs: Pairs = new Map();
  private readonly taken = new Set<Fixture>();

  constructor(
    private readonly first: readonly Fixture[],
    private readonly second: readonly Fixture[],
  ) {}

  leftFirst(): Fixture[] {
    return this.first.filter((fixture) => !this.pairs.has(fixture));
  }

  leftSecond(): Fixture[] {
    return this.second.filter((fixture) => !this.taken.has(fixture));
  }

  isTaken(fixture: Fixture): boolean {
    return this.taken.has(fixture);
  }

  put(a: Fixture, b: Fixture): void {
    this.pairs.set(a, b);
    this.taken.add(b);
  }

  /** Pairs those left whose key stands once on either side. */
  byKey(
    keyOf: (fixture: Fixture) => string | null,
    fits = (_a: Fixture, _b: Fixture) => true,
  ): void {
    const firsts = grouped(this.leftFirst(), keyOf);
    const seconds = grouped(this.leftSecond(), keyOf);
    for (const [key, list] of firsts) {
      const others = seconds.get(key) ?? [];
      const [a] = list;
      const [b] = others;
      if (
        list.length === 1 &&
        others.length === 1 &&
        a !== undefined &&
        b !== undefined &&
        fits(a, b)
      )
        this.put(a, b);
    }
  }

  /** Pairs those left with one key in order, where as many stand on either side. */
  inOrder(keyOf: (fixture: Fixture) => string | null): void {
    const seconds = grouped(this.leftSecond(), keyOf);
    for (const [key, list] of grouped(this.leftFirst(), keyOf)) {
      const others = seconds.get(key) ?? [];
      if (list.length !== others.length) continue;
      list.forEach((a, at) => {
        const b = others[at];
        if (b !== undefined) this.put(a, b);
      });
    }
  }
}

function grouped(
  fixtures: readonly Fixture[],
  keyOf: (fixture: Fixture) => string | null,
): Map<string, Fixture[]> {
  const groups = new Map<string, Fixture[]>();
  for (const fixture of fixtures) {
    const key = keyOf(fixture);
    if (key === null) continue;
    const list = groups.get(key);
    if (list === undefined) groups.set(key, [fixture]);
    else list.push(fixture);
  }
  return groups;
}

const tagOf = ({ tag }: Fixture): string | null => tag;
const runAndPlace = ({ run, place }: Fixture): string | null =>
  run === null || place === null ? null : JSON.stringify([run, place]);
const tagRunPlace = (fixture: Fixture): string | null => {
  const at = runAndPlace(fixture);
  return at === null ? null : JSON.stringify([fixture.tag, at]);
};
/** What an untagged row says, wherever it stands. */
const contentOf = ({ tag, origin }: Fixture): string | null =>
  tag !== null || origin === null ? null : JSON.stringify([origin.sheet, origin.cells]);
const rowOf = ({ origin }: Fixture): string | null =>
  origin === null ? null : JSON.stringify([origin.file, origin.sheet, origin.row]);

/** Most of what both state is the same; the run, the place and the tag aside, at least the type. */
function areAlike(a: Fixture, b: Fixture): boolean {
  if (a.type !== b.type) return false;
  const stated = compared.filter((field) => a[field] !== null && b[field] !== null);
  const equal = stated.filter((field) => a[field] === b[field]).length;
  return stated.length > 0 && equal >= stated.length * ALIKE;
}

/** Rows between the same two matched neighbours, in order, where as many stand on either side. */
function byPosition(matcher: Matcher, first: readonly Fixture[], second: readonly Fixture[]): void {
  const placeOf = new Map(second.map((fixture, at) => [fixture, at]));
  let gap: Fixture[] = [];
  let before = -1;
  const close = (after: number) => {
    const open = second.slice(before + 1, after).filter((fixture) => !matcher.isTaken(fixture));
    if (open.length === gap.length) {
      gap.forEach((a, at) => {
        const b = open[at];
        if (b !== undefined && areAlike(a, b)) matcher.put(a, b);
      });
    }
    gap = [];
  };
  for (const fixture of first) {
    const other = matcher.pairs.get(fixture);
    if (other === undefined) {
      gap.push(fixture);
      continue;
    }
    const at = placeOf.get(other) ?? before;
    if (gap.length > 0 && at > before) close(at);
    gap = [];
    before = Math.max(before, at);
  }
  if (gap.length > 0) close(second.length);
}

/**
 * The fixtures of a file as it was read before, each with the same one of the revised file: those of a
 * quantity row by their row, the others by tag as written, tags that stand twice by run and place or in order, then by letters and number; rows
 * without a tag by all they say; those left, whose tag is another, by run and place or by their row between two that are matched.
 */
export function matchRevised(
  base: readonly Fixture[],
  revised: readonly Fixture[],
): ReadonlyMap<Fixture, Fixture> {
  const matcher = new Matcher(base, revised);
  for (const [a, b] of madeTagPairs(base, revised)) matcher.put(a, b);
  matcher.byKey(tagOf);
  matcher.byKey(tagRunPlace);
  matcher.inOrder(tagOf);
  matcher.byKey(({ tag }) => (tag === null ? null : tagKey(tag)));
  // Without a tag: the very same row.
  matcher.inOrder(contentOf);
  matcher.byKey(runAndPlace, areAlike);
  byPosition(matcher, base, revised);
  return matcher.pairs;
}

/**
 * The fixtures as they were read, each with the one of the project it became: by the row it came
 * from, of rows that stand for several by tag, id, then order. A fixture taken out has none.
 */
export function matchCurrent(
  base: readonly Fixture[],
  current: readonly Fixture[],
): ReadonlyMap<Fixture, Fixture> {
  const matcher = new Matcher(base, current);
  const rowAnd = (what: (fixture: Fixture) => string | null) => (fixture: Fixture) => {
    const row = rowOf(fixture);
    const more = what(fixture);
    return row === null || more === null ? null : JSON.stringify([row, more]);
  };
  matcher.byKey(rowAnd(({ tag }) => tag ?? ''));
  matcher.byKey(rowAnd(({ id }) => id));
  matcher.inOrder(rowOf);
  return matcher.pairs;
}
