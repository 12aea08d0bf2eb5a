/** The address plan of a project, kept up to date, and what stands in each universe. */
import {
  type AddressPlan,
  type AddressSlot,
  givenSlot,
  isGiven,
  planAddresses,
} from '../dmx/address-plan.ts';
import { slotsPerUniverse } from '../dmx/slot-range.ts';
import type { FixtureFacts } from '../solve/fixture-facts.ts';
import type { RowTable } from './row-table.ts';

/** What a new plan changed. */
export interface SlotChange {
  /** Fixtures whose slot is another now. */
  readonly moved: ReadonlySet<string>;
  /** Universes these left or came to. */
  readonly universes: ReadonlySet<number>;
  /** Before and after, every slot looked at lies whole in a universe: limits of the project say nothing of it. */
  readonly quiet: boolean;
}

const noRows: readonly number[] = [];

export class SlotTable {
  private readonly rows: RowTable;
  plan: AddressPlan;
  /** Every fixture is given: each slot hangs on its own fixture alone. */
  private given: boolean;
  /** Rows in each universe, ascending; made at need. */
  private held: Map<number, number[]> | null = null;

  constructor(rows: RowTable) {
    this.rows = rows;
    this.plan = planOf(rows);
    this.given = rows.all.every(isGiven);
  }

  /** Universes in which anything stands. */
  get universes(): Iterable<number> {
    return this.heldRows().keys();
  }

  /** The fixtures that have a place in a universe, in order of rows. */
  factsIn(universe: number): FixtureFacts[] {
    const rows = this.heldRows().get(universe) ?? noRows;
    return rows.map((row) => this.rows.all[row] as FixtureFacts);
  }

  /** After these fixtures were replaced: one by one where no other slot can move. */
  replace(before: readonly FixtureFacts[]): SlotChange {
    const now = before.flatMap(({ id }) => this.rows.factsOf(id) ?? []);
    if (!this.given || !now.every(isGiven)) return this.replan(before);
    const moved = new Map<string, AddressSlot | undefined>();
    let quiet = true;
    before.forEach((old, i) => {
      const [was, is] = [givenSlot(old), givenSlot(now[i] as FixtureFacts)];
      quiet &&= isWhole(was) && isWhole(is);
      if (!sameSlot(was, is)) moved.set(old.id, was);
    });
    return { ...this.changeOf(moved), quiet };
  }

  /** Plans everything anew. `replaced`: facts before of fixtures that were replaced where they stand. */
  replan(replaced: readonly FixtureFacts[] = []): SlotChange {
    const before = new Map<string, AddressSlot>(this.plan);
    for (const old of replaced) before.set(old.id, this.plan.slotOf(old));
    this.plan = planOf(this.rows);
    this.given = this.rows.all.every(isGiven);
    const moved = new Map<string, AddressSlot | undefined>();
    for (const [id, slot] of this.plan) {
      const old = before.get(id);
      if (old === undefined || !sameSlot(old, slot)) moved.set(id, old);
      before.delete(id);
    }
    for (const [id, slot] of before) moved.set(id, slot);
    // Rows may be others as well.
    this.held = null;
    return { ...this.changeOf(moved), quiet: false };
  }

  private changeOf(moved: ReadonlyMap<string, AddressSlot | undefined>): Omit<SlotChange, 'quiet'> {
    const universes = new Set<number>();
    for (const [id, before] of moved) {
      const left = before?.universe ?? null;
      const entered = this.plan.get(id)?.universe ?? null;
      if (left !== entered) this.held = null;
      if (left !== null) universes.add(left);
      if (entered !== null) universes.add(entered);
    }
    return { moved: new Set(moved.keys()), universes };
  }

  private heldRows(): Map<number, number[]> {
    if (this.held === null) {
      this.held = new Map();
      for (let row = 0; row < this.rows.all.length; row += 1) {
        const { universe } = this.plan.slotOf(this.rows.all[row] as FixtureFacts);
        if (universe === null) continue;
        const list = this.held.get(universe);
        if (list === undefined) this.held.set(universe, [row]);
        else list.push(row);
      }
    }
    return this.held;
  }
}

function planOf(rows: RowTable): AddressPlan {
  return planAddresses(rows.all, rows.members.values(), (id) => rows.factsOf(id));
}

function isWhole({ universe, address, lastAddress }: AddressSlot): boolean {
  if (universe === null || address === null || lastAddress === null) return false;
  return address >= 1 && lastAddress <= slotsPerUniverse;
}

function sameSlot(a: AddressSlot, b: AddressSlot): boolean {
  return (
    a.universe === b.universe &&
    a.address === b.address &&
    a.lastAddress === b.lastAddress &&
    a.proposed === b.proposed
  );
}
