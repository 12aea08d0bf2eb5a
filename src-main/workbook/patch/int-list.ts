/** A growing list of whole numbers without an object for each: a large sheet has millions. */
export class IntList {
  private items = new Int32Array(1024);
  length = 0;

  push(value: number): void {
    if (this.length === this.items.length) {
      const wider = new Int32Array(this.items.length * 2);
      wider.set(this.items);
      this.items = wider;
    }
    this.items[this.length] = value;
    this.length += 1;
  }

  /** The value at a place that was pushed. */
  at(place: number): number {
    return this.items[place] ?? 0;
  }

  set(place: number, value: number): void {
    this.items[place] = value;
  }
}
