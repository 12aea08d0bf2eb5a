import type { Circuit, Line, Run, Supply } from '../document/project.ts';
import type { FixtureFacts } from './fixture-facts.ts';

export type SupplyLevel = 'low' | 'nominal' | 'high';

/** Current magnitudes of a solved run, A. One entry a fixture, in order of place. */
interface Currents {
  readonly currentA: Float64Array;
  readonly cumulativeA: Float64Array;
  readonly throughA: Float64Array;
}

/**
 * A run solved at one supply voltage. One entry a fixture, in order of place. SI, phasor
 * magnitudes. Volts are kept; currents are worked out at the first asking, since a check mostly
 * needs no more than that of the head: `currents` gives the same bits whenever it is called.
 */
export class LevelResult {
  readonly supplyV: number;
  /** |V| at each fixture. */
  readonly voltsV: Float64Array;
  /** Index of the least volts, the first of equals; −1 in a run without fixtures. */
  readonly leastAt: number;
  /** Phasor at the head, the supply as real reference. */
  readonly headRe: number;
  readonly headIm: number;
  readonly headA: number;
  readonly #currents: (supplyV: number) => Currents;
  #known: Currents | null = null;

  constructor(
    supplyV: number,
    voltsV: Float64Array,
    headRe: number,
    headIm: number,
    currents: (supplyV: number) => Currents,
  ) {
    this.supplyV = supplyV;
    this.voltsV = voltsV;
    this.leastAt = indexOfLeast(voltsV);
    this.headRe = headRe;
    this.headIm = headIm;
    this.headA = Math.hypot(headRe, headIm);
    this.#currents = currents;
  }

  /** Own |I| of each fixture. */
  get currentA(): Float64Array {
    return this.currents().currentA;
  }

  /** |Σ I| of places 1 to here. */
  get cumulativeA(): Float64Array {
    return this.currents().cumulativeA;
  }

  /** |Σ I| from here to the terminator. */
  get throughA(): Float64Array {
    return this.currents().throughA;
  }

  private currents(): Currents {
    this.#known ??= this.#currents(this.supplyV);
    return this.#known;
  }
}

function indexOfLeast(values: Float64Array): number {
  let index = -1;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < values.length; i += 1) {
    const value = values[i] as number;
    if (value < least) {
      least = value;
      index = i;
    }
  }
  return index;
}

/** A value a run lacks: what it is and which fixtures (none: the run as a whole). */
export interface Need {
  readonly what:
    | 'watts'
    | 'power factor'
    | 'span'
    | 'supply voltage'
    | 'conductor'
    | 'home run conductor'
    | 'home run'
    | 'lead-in'
    | 'place';
  readonly fixtureIds: readonly string[];
}

/** Everything known and solved of one run. Typed arrays are read-only by agreement. */
export interface RunResult {
  readonly run: Run;
  readonly circuit: Circuit;
  readonly supply: Supply | null;
  readonly line: Line | null;
  /** Fixtures in order of place. */
  readonly facts: readonly FixtureFacts[];
  readonly supplyV: number | null;
  /** Named conductors of line and home run, as far as they are named. */
  readonly conductors: readonly string[];
  /** Per conductor, hot; null: not known. */
  readonly lineOhmPerKm: number | null;
  readonly homeRunOhmPerKm: number | null;
  readonly homeRunReactanceOhmPerKm: number;
  /** Home run as solved with: 0 where it is not known (then `homeRunKnown` is false). */
  readonly homeRunM: number;
  readonly homeRunKnown: boolean;
  readonly spanM: readonly (number | null)[];
  readonly piecesM: readonly (readonly number[] | null)[];
  readonly installedM: readonly (number | null)[];
  readonly drawnTotalM: number | null;
  readonly installedTotalM: number | null;
  /** Values without which nothing can be solved. */
  readonly needs: readonly Need[];
  /** true; false: no operating point at nominal supply; null: a needed value is missing. */
  readonly solved: boolean | null;
  readonly nominal: LevelResult | null;
  readonly low: LevelResult | null;
  readonly high: LevelResult | null;
}

/** Drop at a fixture in percent of the supply: 100·(Vs − |V|)/Vs. */
export function dropPct(level: LevelResult, index: number): number {
  const volts = level.voltsV[index] ?? 0;
  return (100 * (level.supplyV - volts)) / level.supplyV;
}

/** Greatest drop along a run and where; null for a run without fixtures. */
export function worstDrop(level: LevelResult): { index: number; dropPct: number } | null {
  const index = level.leastAt;
  return index < 0 ? null : { index, dropPct: dropPct(level, index) };
}

/** The volts a drop limit in percent leaves at a supply level. */
export function voltsAtDrop(level: LevelResult, limitPct: number): number {
  return level.supplyV * (1 - limitPct / 100);
}

/** Installed length from the head box to the fixture at this index, m; null where a span before it is not known. */
export function cableSoFarM(run: Pick<RunResult, 'installedM'>, index: number): number | null {
  let total = 0;
  for (let i = 0; i <= index; i += 1) {
    const lengthM = run.installedM[i] ?? null;
    if (lengthM === null) return null;
    total += lengthM;
  }
  return total;
}
