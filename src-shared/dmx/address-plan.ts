/** Addresses as the file gives them, and proposals where it gives none (`check-command.md`). */
import { lastSlot, slotsPerUniverse, UniverseMap } from './slot-range.ts';

/** What the plan needs of a fixture. */
export interface Addressable {
  readonly id: string;
  readonly run: string | null;
  readonly universe: number | null;
  readonly address: number | null;
  readonly footprint: number | null;
  /** The file says something of universe or address that could not be read: nothing is proposed. */
  readonly addressUnread: boolean;
}

/** Universe (base 1), first and last slot; each null where not known. */
export interface AddressSlot {
  readonly universe: number | null;
  readonly address: number | null;
  readonly lastAddress: number | null;
  /** Not from the file: a proposal the engineer has not taken yet. */
  readonly proposed: boolean;
}

/** Whether the file says where the fixture stands: then nothing is proposed for it. */
export function isGiven({ universe, address }: Addressable): boolean {
  return universe !== null && address !== null;
}

/** The slot of a fixture as the file gives it. */
export function givenSlot(fixture: Addressable): AddressSlot {
  const { universe, address, footprint } = fixture;
  const lastAddress = address === null || footprint === null ? null : lastSlot(address, footprint);
  return { universe, address, lastAddress, proposed: false };
}

function totalFootprint(members: readonly Addressable[]): number | null {
  let total = 0;
  for (const { footprint } of members) {
    if (footprint === null || footprint < 1) return null;
    total += footprint;
  }
  return total <= slotsPerUniverse ? total : null;
}

/** Packs whole runs in order: the next universe when a run does not fit, never back to an earlier one. */
function proposeWholeRuns(
  runs: readonly (readonly Addressable[])[],
  firstUniverse: number,
  plan: Map<string, AddressSlot>,
): void {
  let universe = firstUniverse;
  let next = 1;
  for (const members of runs) {
    const total = totalFootprint(members);
    if (total === null) continue;
    if (next + total - 1 > slotsPerUniverse) {
      universe += 1;
      next = 1;
    }
    for (const fixture of members) {
      const last = lastSlot(next, fixture.footprint ?? 0);
      plan.set(fixture.id, { universe, address: next, lastAddress: last, proposed: true });
      next = last + 1;
    }
  }
}

/** The universe most members name; the first named where several tie. Null when none is named. */
export function ownUniverse(members: readonly Pick<Addressable, 'universe'>[]): number | null {
  const counts = new Map<number, number>();
  for (const { universe } of members) {
    if (universe !== null) counts.set(universe, (counts.get(universe) ?? 0) + 1);
  }
  let own: number | null = null;
  let most = 0;
  for (const [universe, count] of counts) {
    if (count > most) {
      most = count;
      own = universe;
    }
  }
  return own;
}

function mapOf(taken: Map<number, UniverseMap>, universe: number): UniverseMap {
  const map = taken.get(universe) ?? new UniverseMap();
  taken.set(universe, map);
  return map;
}

/** Slots a start address holds: those of the footprint, at least its own. */
function takeSlots(map: UniverseMap, slot: AddressSlot): void {
  if (slot.address !== null) map.take(slot.address, slot.lastAddress ?? slot.address);
}

/** A start address without universe belongs to the universe of its run. */
function nameUniverses(
  runs: readonly (readonly Addressable[])[],
  taken: Map<number, UniverseMap>,
  plan: Map<string, AddressSlot>,
): void {
  for (const members of runs) {
    const own = ownUniverse(members);
    if (own === null) continue;
    for (const fixture of members) {
      if (fixture.address === null || fixture.universe !== null || fixture.addressUnread) continue;
      const slot = { ...givenSlot(fixture), universe: own, proposed: true };
      takeSlots(mapOf(taken, own), slot);
      plan.set(fixture.id, slot);
    }
  }
}

/** Fills the gaps of partly addressed runs with the lowest free slots of their own universe. */
function fillGaps(
  runs: readonly (readonly Addressable[])[],
  taken: Map<number, UniverseMap>,
  plan: Map<string, AddressSlot>,
): void {
  for (const members of runs) {
    const own = ownUniverse(members);
    if (own === null) continue;
    const map = mapOf(taken, own);
    for (const fixture of members) {
      const { footprint, universe, address, addressUnread } = fixture;
      if (addressUnread || address !== null || footprint === null || footprint < 1) continue;
      if (universe !== null && universe !== own) continue;
      const first = map.lowestFree(footprint);
      if (first === null) continue;
      const last = lastSlot(first, footprint);
      map.take(first, last);
      plan.set(fixture.id, { universe: own, address: first, lastAddress: last, proposed: true });
    }
  }
}

/** Finds a fixture by its id; null where there is none. */
export type FindAddressable = (id: string) => Addressable | null;

/**
 * Universe, start and last address of every fixture. Only proposals are kept: what the file gives is
 * read off the fixture, so that it holds for a fixture that was replaced as well.
 */
export class AddressPlan implements Iterable<[string, AddressSlot]> {
  readonly #all: readonly Addressable[];
  readonly #find: FindAddressable;
  readonly #proposed: ReadonlyMap<string, AddressSlot>;

  constructor(
    all: readonly Addressable[],
    find: FindAddressable,
    proposed: ReadonlyMap<string, AddressSlot>,
  ) {
    this.#all = all;
    this.#find = find;
    this.#proposed = proposed;
  }

  /** The slot of a fixture at hand. */
  slotOf(fixture: Addressable): AddressSlot {
    const proposed = isGiven(fixture) ? undefined : this.#proposed.get(fixture.id);
    return proposed ?? givenSlot(fixture);
  }

  get(id: string): AddressSlot | undefined {
    const fixture = this.#find(id);
    return fixture === null ? undefined : this.slotOf(fixture);
  }

  *values(): Generator<AddressSlot> {
    for (const fixture of this.#all) yield this.slotOf(fixture);
  }

  *[Symbol.iterator](): Generator<[string, AddressSlot]> {
    for (const fixture of this.#all) yield [fixture.id, this.slotOf(fixture)];
  }
}

/**
 * Universe, start and last address of every fixture. `runs` are the runs in order of first
 * appearance, each in order of place; `all` are all fixtures. Same input, same answer. While every
 * fixture is given, each slot hangs on its own fixture alone.
 */
export function planAddresses(
  all: readonly Addressable[],
  runs: Iterable<readonly Addressable[]>,
  find: FindAddressable = finderIn(all),
): AddressPlan {
  const proposed = new Map<string, AddressSlot>();
  let highest = 0;
  let gaps = false;
  for (const fixture of all) {
    if (fixture.universe !== null) highest = Math.max(highest, fixture.universe);
    gaps ||= !isGiven(fixture);
  }
  if (gaps) propose(all, [...runs], highest, proposed);
  return new AddressPlan(all, find, proposed);
}

function finderIn(all: readonly Addressable[]): FindAddressable {
  const byId = new Map(all.map((fixture) => [fixture.id, fixture]));
  return (id) => byId.get(id) ?? null;
}

/** Proposes slots for the fixtures that lack one. */
function propose(
  all: readonly Addressable[],
  runs: readonly (readonly Addressable[])[],
  highest: number,
  plan: Map<string, AddressSlot>,
): void {
  const isBare = (f: Addressable) => f.universe === null && f.address === null && !f.addressUnread;
  const bare = runs.filter((members) => members.every(isBare));
  const partly = runs.filter((members) => !members.every(isBare) && !members.every(isGiven));
  // All given addresses are taken before any gap is filled, whatever the order of runs and places.
  if (partly.length > 0) {
    const taken = slotsTaken(all);
    nameUniverses(partly, taken, plan);
    fillGaps(partly, taken, plan);
  }
  proposeWholeRuns(bare, highest + 1, plan);
}

function slotsTaken(all: readonly Addressable[]): Map<number, UniverseMap> {
  const taken = new Map<number, UniverseMap>();
  for (const fixture of all) {
    if (fixture.universe === null || fixture.address === null) continue;
    takeSlots(mapOf(taken, fixture.universe), givenSlot(fixture));
  }
  return taken;
}
