import type { Circuit, Line, Run, Supply } from '../document/project.ts';
import type { FixtureFacts } from './fixture-facts.ts';

export type SupplyLevel = 'low' | 'nominal' | 'high';

/** A run solved at one supply voltage. One entry a fixture, in order of place. SI, phasor magnitudes. */
export interface LevelResult {
  readonly supplyV: number;
  /** |V| at each fixture. */
  readonly voltsV: Float64Array;
  /** Own |I| of each fixture. */
  readonly currentA: Float64Array;
  /** |Σ I| of places 1 to here. */
  readonly cumulativeA: Float64Array;
  /** |Σ I| from here to the terminator. */
  readonly throughA: Float64Array;
  /** Phasor at the head, the supply as real reference. */
  readonly headRe: number;
  readonly headIm: number;
  readonly headA: number;
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
  /** Per conductor, hot; null: not known. */
  readonly lineOhmPerKm: number | null;
  readonly homeRunOhmPerKm: number | null;
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
  let index = -1;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < level.voltsV.length; i += 1) {
    const volts = level.voltsV[i] ?? 0;
    if (volts < least) {
      least = volts;
      index = i;
    }
  }
  return index < 0 ? null : { index, dropPct: dropPct(level, index) };
}
