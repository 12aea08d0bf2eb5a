/** What to buy, counted: pieces by length, taps, head boxes, terminators, and hand terminations. */

/** What the takeoff needs of a run. */
export interface TakeoffRun {
  readonly line: string | null;
  readonly fixtures: readonly { readonly type: string | null }[];
  /** Pieces of each span in metres, in order of place; null where they cannot be counted. */
  readonly piecesM: readonly (readonly number[] | null)[];
  readonly conductorsPerFixture: number;
  readonly conductorsPerHeadBox: number;
}

export interface TakeoffItem {
  readonly item: string;
  readonly lengthM: number | null;
  readonly quantity: number;
  /** Spare pieces: 5 %, rounded up per item, at least one. Common practice, no source. */
  readonly spares: number;
}

export interface Takeoff {
  readonly items: readonly TakeoffItem[];
  /** Conductors to terminate by hand: every fixture hard-wired, or every head box of the runs. */
  readonly terminations: { readonly hardWired: number; readonly asRuns: number };
  /** Spans whose pieces could not be counted. */
  readonly uncountedSpans: number;
}

/** Part of a quantity kept in spare, rounded up, at least one. Common practice, no source. */
export const spareShare = 0.05;

function spares(quantity: number): number {
  return quantity === 0 ? 0 : Math.max(1, Math.ceil(quantity * spareShare - 1e-9));
}

function byText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

class Counter {
  private readonly counts = new Map<
    string,
    { item: string; lengthM: number | null; quantity: number }
  >();

  add(item: string, lengthM: number | null, quantity: number): void {
    const key = `${item}\u0000${lengthM === null ? '' : lengthM.toFixed(4)}`;
    const entry = this.counts.get(key);
    if (entry === undefined) this.counts.set(key, { item, lengthM, quantity });
    else entry.quantity += quantity;
  }

  items(): TakeoffItem[] {
    return [...this.counts.values()].map((entry) => ({ ...entry, spares: spares(entry.quantity) }));
  }
}

/** Counts what the runs are built from. Items in the order cable, taps, boxes, fixtures by type. */
export function countTakeoff(runs: readonly TakeoffRun[]): Takeoff {
  const cable = new Counter();
  const parts = new Counter();
  const fixtures = new Counter();
  let hardWired = 0;
  let asRuns = 0;
  let uncountedSpans = 0;
  for (const run of runs) {
    if (run.fixtures.length === 0) continue;
    run.piecesM.forEach((pieces, index) => {
      if (pieces === null) uncountedSpans += 1;
      const name = index === 0 ? 'Lead-in' : 'Jumper';
      const item = run.line === null ? name : `${name}, ${run.line}`;
      for (const lengthM of pieces ?? []) cable.add(item, lengthM, 1);
    });
    parts.add('Tap', null, run.fixtures.length);
    parts.add('Head box', null, 1);
    parts.add('Terminator', null, 1);
    for (const { type } of run.fixtures)
      fixtures.add(`Fixture, ${type ?? 'type not given'}`, null, 1);
    hardWired += run.fixtures.length * run.conductorsPerFixture;
    asRuns += run.conductorsPerHeadBox;
  }
  const byLength = cable
    .items()
    .sort((a, b) => byText(a.item, b.item) || (a.lengthM ?? 0) - (b.lengthM ?? 0));
  return {
    items: [...byLength, ...parts.items(), ...fixtures.items()],
    terminations: { hardWired, asRuns },
    uncountedSpans,
  };
}
