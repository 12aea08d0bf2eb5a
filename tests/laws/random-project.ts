/** Random jobs: several runs, shared circuits and outputs, missing values, addresses given, partly given or none. */
import {
  blankCircuit,
  blankFixture,
  blankLine,
  blankProject,
  blankRun,
  blankSupply,
  blankType,
} from '../../src-shared/document/blank.ts';
import type {
  Fixture,
  FixtureType,
  Line,
  Project,
  Run,
} from '../../src-shared/document/project.ts';

export type Random = () => number;

export function pick<T>(random: Random, list: readonly T[]): T {
  const item = list[Math.floor(random() * list.length)];
  if (item === undefined) throw new Error('nothing to pick from');
  return item;
}

export const whole = (random: Random, from: number, to: number) =>
  from + Math.floor(random() * (to - from + 1));

/** The value, or null once in `1/share` times. */
function maybe<T>(random: Random, value: T, share = 12): T | null {
  return random() * share < 1 ? null : value;
}

function randomType(random: Random, name: string): FixtureType {
  return {
    ...blankType(name),
    loadW: maybe(random, whole(random, 0, 400)),
    powerFactor: maybe(random, pick(random, [1, 0.95, 0.9, 0.6])),
    printedMinV: maybe(random, pick(random, [100, 200, 347])),
    printedMaxV: maybe(random, pick(random, [240, 277, 480])),
    absoluteMinV: maybe(random, pick(random, [90, 198, 312]), 3),
    absoluteMaxV: maybe(random, pick(random, [264, 305, 528]), 3),
    modes: [
      { name: '4ch', footprint: 4 },
      { name: '9ch', footprint: 9 },
      { name: 'long', footprint: 120 },
    ].slice(0, whole(random, 0, 3)),
    unitLoad: maybe(random, pick(random, [1, 0.5, 0.125])),
    leakageMa: maybe(random, pick(random, [0.2, 0.7, 1.5])),
  };
}

function randomLine(random: Random, name: string): Line {
  return {
    ...blankLine(name),
    conductor: maybe(random, pick(random, ['12 AWG', '2.5 mm²', '10 AWG', 'odd'])),
    resistanceOhmPerKm: maybe(random, pick(random, [5, 8, 60]), 3),
    reactanceOhmPerKm: maybe(random, 0.1, 2),
    ratingA: maybe(random, pick(random, [4, 10, 15])),
    maxUpstreamBreakerA: maybe(random, pick(random, [15, 20])),
    lengthLimits: [{ supplyV: pick(random, [208, 240]), maxLengthM: whole(random, 20, 90) }],
    jumperLengthsM: pick(random, [[], [2, 5], [0.6096, 2.4384, 4.572]]),
    leadInLengthsM: pick(random, [[], [5, 10]]),
    leadInCuttable: random() < 0.7,
    pieceChoice: pick(random, ['fewest-joints', 'least-excess'] as const),
  };
}

function randomRun(random: Random, name: string, circuitId: string): Run {
  return {
    ...blankRun(name, circuitId),
    supplyV: maybe(random, pick(random, [120, 208, 240, 347])),
    line: pick(random, [null, 'K1', 'k2', 'no such line']),
    conductor: pick(random, [null, null, '4 mm²']),
    homeRunM: maybe(random, whole(random, 0, 120)),
    leadInM: pick(random, [null, null, 4]),
    homeRunConductor: pick(random, [null, null, '8 AWG']),
    dataOutput: pick(random, [null, null, 'S1.1', 'S1.2']),
  };
}

/** How the addresses of a run stand in the file. */
type Addressing = 'given' | 'partly' | 'none' | 'without universe';

function randomFixture(
  random: Random,
  id: string,
  run: string | null,
  place: number,
  addressing: Addressing,
): Fixture {
  const given = addressing === 'given' || (addressing === 'partly' && random() < 0.5);
  const universe = addressing === 'without universe' || !given ? null : whole(random, 1, 3);
  const alone = addressing === 'without universe' && random() < 0.8;
  return {
    ...blankFixture(id),
    tag: maybe(random, random() < 0.05 ? 'twin' : `T-${id}`, 20),
    type: maybe(random, pick(random, ['t1', 'T2', 'T3', 'unknown']), 15),
    run,
    place: maybe(random, random() < 0.05 ? place + 1 : place, 25),
    fedFrom: maybe(random, pick(random, ['BOX', 'T-f1', 'T-f2', `T-f${place}`]), 3),
    spanM: maybe(random, whole(random, 0, 140) / 10, 20),
    installedM: random() < 0.05 ? whole(random, 1, 9) : null,
    loadW: random() < 0.1 ? whole(random, 0, 900) : null,
    powerFactor: random() < 0.1 ? 0.8 : null,
    mode: maybe(random, pick(random, ['4ch', '9ch', 'long', '12 slots']), 4),
    footprint: random() < 0.1 ? whole(random, 1, 60) : null,
    universe,
    address: given || alone ? whole(random, 1, 512) : null,
    unitLoad: random() < 0.05 ? 0.25 : null,
    leakageMa: random() < 0.05 ? 3 : null,
    shareSet: random() < 0.15 ? pick(random, ['M1', 'M2']) : null,
    differing: random() < 0.06 ? pick(random, [{ supplyV: 277 }, { breakerA: 15 }]) : null,
    unread: random() < 0.05 ? [pick(random, ['address', 'load', 'footprint'])] : [],
    locks: random() < 0.05 ? [pick(random, ['address', 'place', 'supply', 'load'])] : [],
  };
}

/** A random job of up to `most` fixtures. Equal for equal random numbers. */
export function randomProject(random: Random, most = 24): Project {
  const runs = ['A', 'B', 'C', 'A/B'].slice(0, whole(random, 1, 4));
  const circuits = runs.slice(0, whole(random, 1, runs.length)).map((_, i) => ({
    ...blankCircuit(`c${i + 1}`),
    panel: maybe(random, pick(random, ['P1', 'P2']), 6),
    name: maybe(random, `${i + 1}`, 6),
    breakerA: maybe(random, pick(random, [15, 20, 32])),
    protection: maybe(random, pick(random, ['Class A GFCI', 'RCD 30 mA', 'none', '?'])),
  }));
  const addressing = new Map(
    runs.map((run) => [
      run,
      pick(random, ['given', 'partly', 'none', 'without universe'] as const),
    ]),
  );
  const next = new Map<string, number>();
  const fixtures = Array.from({ length: whole(random, 1, most) }, (_, i) => {
    const run = maybe(random, pick(random, runs), 15);
    const place = run === null ? 1 : (next.get(run) ?? 0) + 1;
    if (run !== null) next.set(run, place);
    const how = run === null ? pick(random, ['given', 'none'] as const) : addressing.get(run);
    return randomFixture(random, `f${i + 1}`, run, place, how ?? 'none');
  });
  const blank = blankProject('random');
  return {
    ...blank,
    settings: {
      ...blank.settings,
      profile: pick(random, ['north-america', 'iec'] as const),
      defaultLine: pick(random, [null, 'K1']),
      homeRunConductor: pick(random, [null, null, '10 AWG']),
      branchDropBinding: pick(random, [null, true]),
    },
    types: ['T1', 'T2', 'T3'].map((name) => randomType(random, name)),
    lines: ['K1', 'K2'].map((name) => randomLine(random, name)),
    supplies: [{ ...blankSupply('P1'), lineToLineV: 208, lineToNeutralV: 120 }],
    circuits,
    runs: runs.map((name) => randomRun(random, name, pick(random, circuits).id)),
    fixtures: random() < 0.5 ? fixtures : fixtures.reverse(),
  };
}

/** Freezes a value and everything in it, so that writing to it throws. */
export function deepFreeze<T>(value: T): T {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    for (const part of Object.values(value)) deepFreeze(part);
  }
  return value;
}
