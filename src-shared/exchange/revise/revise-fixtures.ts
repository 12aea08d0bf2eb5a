/** Fixtures after a revision: the engineer's ids, locks and edits stay. */
import { columnById, isSourceColumnId, sourceColumnIds } from '../../columns/column-table.ts';
import { fixtureFieldOf } from '../../document/cell-fields.ts';
import { freeId } from '../../document/edit-cell.ts';
import type { Fixture, FixtureField } from '../../document/project.ts';
import type { Difference } from './difference.ts';
import { matchCurrent, matchRevised } from './match-fixtures.ts';
import { reviseFields, same } from './three-way.ts';

const fields = Object.values(fixtureFieldOf) as FixtureField[];

export interface RevisedFixtures {
  readonly fixtures: readonly Fixture[];
  readonly differences: readonly Difference[];
  /** A fixture of the reading → the one of the project. */
  readonly currentOf: ReadonlyMap<Fixture, Fixture>;
}

const nameOf = ({ tag, id }: Fixture): string => tag ?? id;

const columnOrder: readonly string[] = sourceColumnIds;

/** In the order of the column table, as on reading: equal projects are equal to the byte. */
const byColumn = (a: string, b: string): number => columnOrder.indexOf(a) - columnOrder.indexOf(b);

/** What could not be read, column by column: what only the file changed is taken. */
function unreadAfter(base: Fixture, current: Fixture, revised: Fixture, record: Fixture): string[] {
  const columns = new Set([...current.unread, ...revised.unread]);
  return [...columns].sort(byColumn).filter((column) => {
    const [was, has, now] = [base, current, revised].map((f) => f.unread.includes(column));
    const unread = was === now || was !== has ? has : now;
    const field = isSourceColumnId(column) ? fixtureFieldOf[column] : undefined;
    return unread === true && (field === undefined || record[field] === null);
  });
}

/** A fixture that is in the file before and after. */
function reviseFixture(
  base: Fixture,
  current: Fixture,
  revised: Fixture,
): { record: Fixture; differences: Difference[] } {
  const locked = new Set(current.locks);
  const revision = reviseFields<Fixture>(fields, {
    table: 'fixtures',
    key: current.id,
    name: nameOf(current),
    base,
    current,
    revised,
    isLocked: (column) => locked.has(column),
  });
  const differences = revision.differences.map((difference): Difference => {
    const renumbered = difference.field === 'tag' && difference.kind === 'changed';
    return renumbered ? { ...difference, kind: 'renumbered' } : difference;
  });
  const { record } = revision;
  const differing = same(current.differing, base.differing) ? revised.differing : current.differing;
  const { origin, alsoFrom } = revised;
  const unread = unreadAfter(base, current, revised, record);
  return { record: { ...record, differing, origin, alsoFrom, unread }, differences };
}

/** A fixture the engineer has added that the revised file has now too: its blanks are filled. */
function adopt(current: Fixture, revised: Fixture): { record: Fixture; differences: Difference[] } {
  const base = { ...revised, ...Object.fromEntries(fields.map((field) => [field, null])) };
  return reviseFixture(base as Fixture, current, revised);
}

const whole = { table: 'fixtures', field: null, column: null } as const;

function removedNote(base: Fixture, current: Fixture): string {
  const edited = fields.filter((field) => !same(base[field], current[field]));
  if (edited.length === 0) return '';
  const titles = Object.entries(fixtureFieldOf).flatMap(([column, field]) =>
    edited.includes(field) && isSourceColumnId(column) ? [columnById(column).title] : [],
  );
  return `you had changed ${titles.join(', ')}`;
}

/** A fixture no row of the revised file speaks of. */
function ownNow(fixture: Fixture): Fixture {
  const { origin, alsoFrom } = fixture;
  if (origin === null && alsoFrom.length === 0) return fixture;
  return { ...fixture, origin: null, alsoFrom: [] };
}

class FixtureReviser {
  readonly differences: Difference[] = [];
  private readonly ids: Set<string>;
  /** Fixtures of the project by the fixture of the reading before. */
  private readonly currentOf: ReadonlyMap<Fixture, Fixture>;
  private readonly revisedOf: ReadonlyMap<Fixture, Fixture>;

  constructor(
    private readonly base: readonly Fixture[],
    private readonly current: readonly Fixture[],
    private readonly revised: readonly Fixture[],
  ) {
    this.ids = new Set(current.map(({ id }) => id));
    this.currentOf = matchCurrent(base, current);
    this.revisedOf = matchRevised(base, revised);
  }

  run(): RevisedFixtures {
    const next = new Map<Fixture, Fixture | null>();
    /** A fixture of the revised file → the one of the project it is now. */
    const became = new Map<Fixture, Fixture>();
    const handled = new Set<Fixture>();
    for (const base of this.base) {
      const current = this.currentOf.get(base);
      const revised = this.revisedOf.get(base);
      if (revised !== undefined) handled.add(revised);
      if (current === undefined) this.takenOut(base, revised);
      else if (revised === undefined) next.set(current, this.gone(base, current));
      else {
        const { record, differences } = reviseFixture(base, current, revised);
        next.set(current, record);
        became.set(revised, current);
        this.differences.push(...differences);
      }
    }
    this.adoptOwn(handled, next, became);
    const fixtures = this.inOrder(handled, next, became);
    return { fixtures, differences: this.differences, currentOf: this.currentOf };
  }

  /** The engineer has taken it out: it stays out. */
  private takenOut(base: Fixture, revised: Fixture | undefined): void {
    if (revised === undefined) return;
    const changed = fields.some((field) => !same(base[field], revised[field]));
    if (!changed) return;
    const said = { ...whole, key: base.id, name: nameOf(revised), was: null, now: nameOf(revised) };
    const note = 'you have taken it out, and the file has changed it: it stays out';
    this.differences.push({ ...said, kind: 'conflict', note });
  }

  /** No longer in the file: it goes, unless something of it is locked. */
  private gone(base: Fixture, current: Fixture): Fixture | null {
    const said = {
      ...whole,
      key: current.id,
      name: nameOf(current),
      was: nameOf(current),
      now: null,
    };
    if (current.locks.length > 0) {
      const note = 'no longer in the file, but locked: it stays';
      this.differences.push({ ...said, kind: 'locked', note });
      return ownNow(current);
    }
    this.differences.push({ ...said, kind: 'removed', note: removedNote(base, current) });
    return null;
  }

  /** Fixtures the engineer has added, which the file has now too. */
  private adoptOwn(
    handled: Set<Fixture>,
    next: Map<Fixture, Fixture | null>,
    became: Map<Fixture, Fixture>,
  ): void {
    const known = new Set(this.currentOf.values());
    const own = new Map<string, Fixture>();
    for (const fixture of this.current)
      if (!known.has(fixture) && fixture.tag !== null) own.set(fixture.tag, fixture);
    for (const revised of this.revised) {
      const current = handled.has(revised) ? undefined : own.get(revised.tag ?? '');
      if (current === undefined || next.has(current)) continue;
      const { record, differences } = adopt(current, revised);
      handled.add(revised);
      next.set(current, record);
      became.set(revised, current);
      this.differences.push(...differences);
    }
  }

  private inserted(revised: Fixture): Fixture {
    const id = this.ids.has(revised.id) ? freeId('f', this.ids) : revised.id;
    this.ids.add(id);
    const name = nameOf(revised);
    this.differences.push({
      ...whole,
      kind: 'added',
      key: id,
      name,
      was: null,
      now: name,
      note: '',
    });
    return { ...revised, id };
  }

  /** The project's order; new fixtures stand behind the one they follow in the file. */
  private inOrder(
    handled: ReadonlySet<Fixture>,
    next: ReadonlyMap<Fixture, Fixture | null>,
    became: ReadonlyMap<Fixture, Fixture>,
  ): Fixture[] {
    const behind = new Map<Fixture | null, Fixture[]>();
    let last: Fixture | null = null;
    for (const revised of this.revised) {
      const current = became.get(revised);
      if (current !== undefined) last = current;
      if (handled.has(revised)) continue;
      const list = behind.get(last) ?? [];
      behind.set(last, list);
      list.push(this.inserted(revised));
    }
    const fixtures = [...(behind.get(null) ?? [])];
    for (const current of this.current) {
      const now = next.has(current) ? (next.get(current) ?? null) : ownNow(current);
      if (now !== null) fixtures.push(now);
      fixtures.push(...(behind.get(current) ?? []));
    }
    return fixtures;
  }
}

/** Fixtures of the project with what the revised file changed. `base`: the file as it was read before. */
export function reviseFixtures(
  base: readonly Fixture[],
  current: readonly Fixture[],
  revised: readonly Fixture[],
): RevisedFixtures {
  return new FixtureReviser(base, current, revised).run();
}
