import type { Fixture } from '../document/project.ts';
import { FixtureFacts, type TypeBook } from '../solve/fixture-facts.ts';
import { membersByRun } from '../solve/project-index.ts';

export interface Replaced {
  readonly before: readonly FixtureFacts[];
  readonly runs: Set<string>;
}

/** The fixtures of a project with their types applied: in order of rows, by id and by run. */
export class RowTable {
  private readonly types: TypeBook;
  private facts: FixtureFacts[];
  private rowOf: Map<string, number>;
  private byRun: Map<string, readonly FixtureFacts[]>;

  constructor(fixtures: readonly Fixture[], types: TypeBook) {
    this.types = types;
    this.facts = fixtures.map((fixture) => new FixtureFacts(fixture, types));
    this.rowOf = indexRows(this.facts);
    this.byRun = membersByRun(this.facts);
  }

  /** In order of rows. */
  get all(): readonly FixtureFacts[] {
    return this.facts;
  }

  /** Members of each run in order of place, runs in order of first appearance, stated or not. */
  get members(): ReadonlyMap<string, readonly FixtureFacts[]> {
    return this.byRun;
  }

  factsOf(fixtureId: string): FixtureFacts | null {
    const row = this.rowOf.get(fixtureId);
    return row === undefined ? null : (this.facts[row] ?? null);
  }

  /** Takes records that changed where they stand: their facts before and the runs they are on. */
  replace(fixtures: readonly Fixture[], changed: ReadonlySet<string>): Replaced {
    const runs = new Set<string>();
    const replaced: FixtureFacts[] = [];
    for (const id of changed) {
      const row = this.rowOf.get(id) ?? -1;
      const [fixture, before] = [fixtures[row], this.facts[row]];
      if (fixture === undefined || before === undefined) continue;
      const facts = new FixtureFacts(fixture, this.types);
      this.facts[row] = facts;
      replaced.push(before);
      if (fixture.run === null) continue;
      runs.add(fixture.run);
      const list = this.byRun.get(fixture.run) ?? [];
      this.byRun.set(
        fixture.run,
        list.map((member) => (member === before ? facts : member)),
      );
    }
    return { before: replaced, runs };
  }

  /** Takes rows that came, went or moved; the runs whose members are others now are returned. */
  regroup(fixtures: readonly Fixture[]): Set<string> {
    const before = this.byRun;
    this.facts = fixtures.map((fixture) => {
      const known = this.factsOf(fixture.id);
      return known?.fixture === fixture ? known : new FixtureFacts(fixture, this.types);
    });
    this.rowOf = indexRows(this.facts);
    this.byRun = membersByRun(this.facts);
    const runs = new Set<string>();
    for (const name of before.keys()) if (!this.byRun.has(name)) runs.add(name);
    for (const [name, list] of this.byRun) {
      const old = before.get(name);
      if (old?.length !== list.length || list.some((f, i) => f !== old[i])) runs.add(name);
    }
    return runs;
  }
}

function indexRows(facts: readonly FixtureFacts[]): Map<string, number> {
  const rows = new Map<string, number>();
  for (let row = 0; row < facts.length; row += 1) rows.set((facts[row] as FixtureFacts).id, row);
  return rows;
}
