/**
 * For whole sums 0 … size−1: the fewest steps from a list that make each exactly, by dynamic
 * programming, grown as far as it is asked for.
 */
export class ExactSums {
  private readonly steps: readonly number[];
  private fewest = new Int32Array(1);
  private lastStep = new Uint16Array(1);
  private known = 1;

  /** `steps`: positive whole numbers, at most 65,536 of them; an earlier one is preferred in ties. */
  constructor(steps: readonly number[]) {
    this.steps = steps;
  }

  /** Fewest steps that make `sum` exactly, or −1 when none do. */
  fewestFor(sum: number): number {
    if (sum >= this.known) this.grow(sum + 1);
    return this.fewest[sum] as number;
  }

  /** Indices into `steps` of one such choice, in ascending order of index. */
  choiceFor(sum: number): number[] {
    const choice: number[] = [];
    if (this.fewestFor(sum) < 0) return choice;
    let rest = sum;
    while (rest > 0) {
      const index = this.lastStep[rest] as number;
      choice.push(index);
      rest -= this.steps[index] as number;
    }
    return choice.sort((a, b) => a - b);
  }

  private grow(size: number): void {
    if (size > this.fewest.length) {
      const capacity = Math.max(size, 2 * this.fewest.length);
      const fewest = new Int32Array(capacity);
      const lastStep = new Uint16Array(capacity);
      fewest.set(this.fewest);
      lastStep.set(this.lastStep);
      this.fewest = fewest;
      this.lastStep = lastStep;
    }
    const { fewest, lastStep, steps } = this;
    for (let sum = this.known; sum < size; sum++) {
      let best = -1;
      for (let index = 0; index < steps.length; index++) {
        const rest = sum - (steps[index] as number);
        const count = rest < 0 ? -1 : (fewest[rest] as number);
        if (count >= 0 && (best < 0 || count + 1 < best)) {
          best = count + 1;
          lastStep[sum] = index;
        }
      }
      fewest[sum] = best;
    }
    this.known = size;
  }
}
