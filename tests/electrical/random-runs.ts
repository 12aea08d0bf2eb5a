import type { OracleRun } from '../oracle/oracle.ts';

/** A small seeded generator (mulberry32), so that a kept seed gives the same runs everywhere. */
export function seededRandom(seed: number): () => number {
  let state = seed | 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/**
 * Runs such as a façade has: 1 to 40 fixtures of 0 to 120 W (one in eight takes nothing), power
 * factor 0.5 to 1, cable of 1 to 20 ohm/km and 0 to 0.2 ohm/km reactance a conductor, 120 to 277 V.
 * Mostly a few percent of drop; many have no operating point.
 */
export function likelyRun(random: () => number): OracleRun {
  const count = 1 + Math.floor(random() * 40);
  const ohmPerM = (1 + 19 * random() ** 2) / 1000;
  const reactancePerM = (random() < 0.25 ? 0 : 0.2 * random()) / 1000;
  const supplies = [120, 208, 230, 240, 277];
  const spans = Array.from({ length: count }, (_, k) => 0.3 + random() * (k === 0 ? 40 : 6));
  const watts = spans.map(() => (random() < 0.125 ? 0 : 120 * random()));
  return {
    sourceV: supplies[Math.floor(random() * supplies.length)] ?? 120,
    loopR: spans.map((m) => 2 * m * ohmPerM),
    loopX: spans.map((m) => 2 * m * reactancePerM),
    p: watts,
    q: watts.map((w) => {
      const pf = random() < 0.25 ? 1 : 0.5 + 0.5 * random();
      return w * Math.tan(Math.acos(pf));
    }),
  };
}

/**
 * Runs nobody would build: 1 to 30 places with loads and impedances over five decades, each load
 * and impedance at any angle from purely real to purely reactive, some of them zero.
 */
export function wildRun(random: () => number): OracleRun {
  const count = 1 + Math.floor(random() * (random() < 0.5 ? 5 : 30));
  const angle = () => {
    const pick = random();
    return pick < 0.25 ? 0 : pick < 0.5 ? Math.PI / 2 : (Math.PI / 2) * random();
  };
  const polar = () => {
    const size = random() < 0.1 ? 0 : 10 ** (5 * random() - 2.5);
    const turn = angle();
    return [size * Math.cos(turn), size * Math.sin(turn)] as const;
  };
  const impedances = Array.from({ length: count }, polar);
  const loads = Array.from({ length: count }, polar);
  return {
    sourceV: 10 ** (4 * random()),
    loopR: impedances.map(([r]) => r),
    loopX: impedances.map(([, x]) => x),
    p: loads.map(([p]) => p),
    q: loads.map(([, q]) => q),
  };
}

/** `count` runs of one kind from a kept seed. */
export function runsOf(
  make: (random: () => number) => OracleRun,
  seed: number,
  count: number,
): OracleRun[] {
  const random = seededRandom(seed);
  return Array.from({ length: count }, () => make(random));
}
