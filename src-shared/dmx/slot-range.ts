/** Slots of a universe: 1 to 512 (ANSI E1.11). */
export const slotsPerUniverse = 512;

/** Last slot of a fixture: start + footprint − 1. */
export function lastSlot(address: number, footprint: number): number {
  return address + footprint - 1;
}

/** Number of slots two ranges share; 0 when apart. */
export function sharedSlots(
  a: { first: number; last: number },
  b: { first: number; last: number },
): number {
  return Math.max(0, Math.min(a.last, b.last) - Math.max(a.first, b.first) + 1);
}

/** Which slots of one universe are taken; finds the lowest free stretch. */
export class UniverseMap {
  private readonly taken = new Uint8Array(slotsPerUniverse + 2);

  take(first: number, last: number): void {
    for (let slot = Math.max(1, first); slot <= Math.min(slotsPerUniverse, last); slot += 1) {
      this.taken[slot] = 1;
    }
  }

  /** As `take`; false, with part of them taken, where one of them is taken already. */
  takeFree(first: number, last: number): boolean {
    for (let slot = Math.max(1, first); slot <= Math.min(slotsPerUniverse, last); slot += 1) {
      if (this.taken[slot] === 1) return false;
      this.taken[slot] = 1;
    }
    return true;
  }

  /** First slot of the lowest free stretch of `length` slots; null when there is none. */
  lowestFree(length: number): number | null {
    return this.firstFreeFrom(1, length);
  }

  /** First slot at or behind `from` where `length` slots are free; null when there is none. */
  firstFreeFrom(from: number, length: number): number | null {
    let free = 0;
    for (let slot = Math.max(1, from); slot <= slotsPerUniverse; slot += 1) {
      free = this.taken[slot] === 1 ? 0 : free + 1;
      if (free === length) return slot - length + 1;
    }
    return null;
  }
}
