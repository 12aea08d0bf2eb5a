import { describe, expect, test } from 'vitest';
import { judgeUpper } from '../../src-shared/limits/outcome.ts';
import {
  cleanProject,
  findingsOf,
  notCheckedLimits,
  oneLoad,
  raised,
  withFixture,
  withLine,
  withSettings,
  withType,
} from './build-project.ts';

// Supply levels as in the project's vocabulary: broken at nominal supply gives the limit's own
// severity; broken only at low or high supply a watch; over 90 % of the allowed at any level a watch.
// Exceptions: above a type's absolute maximum at nominal or high supply a stop; no operating point
// at nominal supply a stop, only at low supply a breach. Tolerance of these jobs: ±5 %.

/** Two-bus closed form at unity power factor: V = (V0 + √(V0² − 4·R·P))/2, I = P/V. */
const volts = (supplyV: number, ohm: number, watts: number) =>
  (supplyV + Math.sqrt(supplyV ** 2 - 4 * ohm * watts)) / 2;
const amps = (supplyV: number, ohm: number, watts: number) => watts / volts(supplyV, ohm, watts);

describe('the rule itself', () => {
  const at = (low: number, nominal: number, high: number) =>
    judgeUpper({ low, nominal, high }, 100, 'stop', 0.9);

  test.each([
    [101, 101, 101, 'stop', 'nominal'],
    [101, 100, 99, 'watch', 'low'],
    [99, 100, 101, 'watch', 'high'],
    [100, 95, 90, 'watch', 'nominal'],
    [91, 90, 89, 'watch', 'low'],
    [89, 90, 91, 'watch', 'high'],
  ] as const)(
    'low %d, nominal %d, high %d of 100 is a %s, decided at %s',
    (low, nominal, high, severity, level) => {
      expect(at(low, nominal, high)).toMatchObject({ severity, level });
    },
  );

  test('90 of 100 at every level holds', () => {
    expect(at(90, 90, 90)).toBeNull();
  });

  test('broken and near are told apart', () => {
    expect(at(101, 99, 90)).toMatchObject({ broken: true, value: 101 });
    expect(at(99, 99, 90)).toMatchObject({ broken: false, value: 99 });
  });
});

describe('line rating', () => {
  // 960 W behind 0.25 ohm: 4.0168 A at 240 V, 4.2302 A at 228 V.
  const rated = (ratingA: number) => withLine(oneLoad(960), 'K1', { ratingA });
  const [nominalA, lowA] = [amps(240, 0.25, 960), amps(228, 0.25, 960)];

  test('broken only at low supply is a watch with the amps there', () => {
    const [finding] = findingsOf(rated(4.1), 'line-rating');
    expect(finding).toMatchObject({ severity: 'watch', level: 'low', allowed: 4.1 });
    expect(finding?.value).toBeCloseTo(lowA, 9);
    expect(finding?.message).toContain('4.23 A at −5 % supply');
    expect(raised(rated(4.1))).toHaveLength(1);
  });

  test('over 90 % at nominal is a watch, over 90 % only at low as well', () => {
    // 4.0168/0.9 = 4.4631; 4.2302/0.9 = 4.7002.
    expect(findingsOf(rated(4.4), 'line-rating')[0]).toMatchObject({
      severity: 'watch',
      level: 'nominal',
    });
    expect(findingsOf(rated(4.4), 'line-rating')[0]?.value).toBeCloseTo(nominalA, 9);
    expect(findingsOf(rated(4.6), 'line-rating')[0]).toMatchObject({
      severity: 'watch',
      level: 'low',
    });
    expect(findingsOf(rated(4.71), 'line-rating')).toEqual([]);
  });

  test('at the limit to the last bit it holds, and is near', () => {
    expect(
      findingsOf(withLine(oneLoad(960), 'K1', { ratingA: lowA }), 'line-rating')[0],
    ).toMatchObject({
      severity: 'watch',
      level: 'nominal',
    });
  });
});

describe('branch drop', () => {
  test('advice in north-america: a watch; marked binding: a breach; near the limit: a watch', () => {
    // 2.55 ohm, 960 W: 4.448 % at 240 V.
    const job = oneLoad(960, 250);
    expect(findingsOf(job, 'branch-drop')[0]).toMatchObject({
      severity: 'watch',
      level: 'nominal',
    });
    const binding = withSettings(job, { branchDropBinding: true });
    expect(findingsOf(binding, 'branch-drop')[0]).toMatchObject({ severity: 'breach' });
    // Low supply 228 V: 4.939 %.
    const nominalPct = (100 * (240 - volts(240, 2.55, 960))) / 240;
    const lowPct = (100 * (228 - volts(228, 2.55, 960))) / 228;
    const with46 = withSettings(binding, { branchDropPct: 4.6 });
    expect(findingsOf(with46, 'branch-drop')[0]).toMatchObject({ severity: 'watch', level: 'low' });
    expect(findingsOf(with46, 'branch-drop')[0]?.value).toBeCloseTo(lowPct, 9);
    const with495 = withSettings(binding, { branchDropPct: nominalPct / 0.9 + 0.01 });
    expect(findingsOf(with495, 'branch-drop')[0]).toMatchObject({
      severity: 'watch',
      level: 'low',
    });
    const said = (settings: Parameters<typeof withSettings>[1]) =>
      /\(([^()]*)\)\. Over by/.exec(
        findingsOf(withSettings(job, settings), 'branch-drop')[0]?.message ?? '',
      )?.[1];
    expect(said({})).toBe('advice in this profile, not a rule');
    expect(said({ branchDropBinding: false })).toBe('advice in this project, not a rule');
    expect(said({ branchDropBinding: true })).toBe('binding in this project');
    expect(said({ profile: 'iec' })).toBe('binding in this profile');
    const free = withSettings(binding, { branchDropPct: lowPct / 0.9 + 0.01 });
    expect(findingsOf(free, 'branch-drop')).toEqual([]);
  });

  test('iec: a breach without being marked', () => {
    // IEC 60364-5-52 Annex G, 3 % for lighting, from memory, verify in the adopted edition.
    const job = withSettings(oneLoad(960, 250), { profile: 'iec' });
    expect(findingsOf(job, 'branch-drop')[0]).toMatchObject({ severity: 'breach', allowed: 3 });
  });
});

describe('wrong voltage', () => {
  const window = (absoluteMinV: number, absoluteMaxV: number) =>
    findingsOf(withType(cleanProject(), 'U1', { absoluteMinV, absoluteMaxV }), 'wrong-voltage');

  test('above the absolute maximum only at high supply is a stop: 240·1.05 = 252 V', () => {
    expect(window(90, 251)[0]).toMatchObject({ severity: 'stop', level: 'high', allowed: 251 });
    expect(window(90, 251)[0]?.value).toBeCloseTo(252, 9);
    expect(window(90, 252)).toEqual([]);
  });

  test('below the minimum only at low supply is a watch: 240·0.95 = 228 V; at nominal a stop', () => {
    expect(window(229, 305)[0]).toMatchObject({ severity: 'watch', level: 'low', allowed: 229 });
    expect(window(241, 305)[0]).toMatchObject({ severity: 'stop', level: 'nominal', value: 240 });
  });

  test('it is said once: too low a supply is no drop', () => {
    const low = withType(cleanProject(), 'U1', { absoluteMinV: 229 });
    expect(raised(low).map((f) => f.limit)).toEqual(['wrong-voltage']);
    const under = withType(cleanProject(), 'U1', { absoluteMinV: 241 });
    expect(raised(under).map((f) => f.limit)).toEqual(['wrong-voltage']);
  });

  test('only the printed window known: ±10 % of it, and said so', () => {
    const printed = withType(cleanProject(), 'U1', { absoluteMaxV: null, printedMaxV: 200 });
    const [finding] = findingsOf(printed, 'wrong-voltage');
    expect(finding?.allowed).toBeCloseTo(220, 9);
    expect(finding?.message).toContain('assumed');
  });
});

describe('fixture under volts', () => {
  // 1200 W behind 4.55 ohm: 214.551 V at 240 V, 200.810 V at 228 V.
  const job = (absoluteMinV: number) =>
    withType(withSettings(oneLoad(1200, 450), { branchDropPct: 20 }), 'U1', { absoluteMinV });
  const of = (absoluteMinV: number) => findingsOf(job(absoluteMinV), 'fixture-under-volts');

  test('only at low supply a watch; near the minimum a watch; far from it nothing', () => {
    expect(of(205)[0]).toMatchObject({ severity: 'watch', level: 'low', allowed: 205 });
    expect(of(205)[0]?.value).toBeCloseTo(volts(228, 4.55, 1200), 9);
    // Near: of the 240 − 200 = 40 V there are, 39.19 V are used at low supply.
    expect(of(200)[0]).toMatchObject({ severity: 'watch', level: 'low' });
    expect(of(190)).toEqual([]);
  });
});

describe('no operating point', () => {
  // R = 2·(450 + 5) m·10 ohm/km = 9.1 ohm: at 240 V it carries at most 240²/(4·9.1) = 1582.4 W, at
  // 228 V 1428.1 W.
  const job = (watts: number) => withLine(oneLoad(watts, 450), 'K1', { resistanceOhmPerKm: 10 });

  test('at nominal supply a stop, only at low supply a breach', () => {
    expect(findingsOf(job(1583), 'no-operating-point')[0]).toMatchObject({
      severity: 'stop',
      level: 'nominal',
    });
    expect(findingsOf(job(1500), 'no-operating-point')[0]).toMatchObject({
      severity: 'breach',
      level: 'low',
    });
    expect(findingsOf(job(1428), 'no-operating-point')).toEqual([]);
  });

  test('what could be judged at nominal supply only is not shown as holding at low', () => {
    const mild = withType(withLine(job(1500), 'K1', { ratingA: 20 }), 'U1', { absoluteMinV: 50 });
    const lenient = withSettings(mild, { branchDropPct: 60 });
    expect(raised(lenient).map((f) => f.limit)).toEqual(['no-operating-point']);
    expect(notCheckedLimits(lenient)).toEqual([
      'branch-drop',
      'circuit-load',
      'fixture-under-volts',
      'line-rating',
    ]);
  });
});

describe('limits without supply levels', () => {
  test('over 90 % of a listed length or of the unit loads is a watch', () => {
    // 5 + 3·3 = 14 m installed: 14/15 = 93 %.
    const length = withLine(cleanProject(), 'K1', {
      lengthLimits: [{ supplyV: 240, maxLengthM: 15 }],
    });
    expect(findingsOf(length, 'run-length')[0]).toMatchObject({
      severity: 'watch',
      value: 14,
      allowed: 15,
    });
    // 4·7 + 1 = 29 of 32.
    const loads = withType(cleanProject(), 'U1', { unitLoad: 7 });
    expect(findingsOf(loads, 'unit-loads')[0]).toMatchObject({
      severity: 'watch',
      value: 29,
      allowed: 32,
    });
    const fewer = withType(cleanProject(), 'U1', { unitLoad: 6.9 });
    expect(findingsOf(fewer, 'unit-loads')).toEqual([]);
  });

  test('leakage of a Class A device: watch over 2 mA (common practice, no source), breach over 4 mA', () => {
    const each = (leakageMa: number) =>
      findingsOf(withType(cleanProject(), 'U1', { leakageMa }), 'leakage');
    expect(each(0.5)).toEqual([]);
    expect(each(0.6)[0]).toMatchObject({ severity: 'watch' });
    expect(each(1)[0]).toMatchObject({ severity: 'watch', value: 4 });
    expect(each(1.1)[0]).toMatchObject({ severity: 'breach' });
  });

  test('more than six pieces in a span is a watch: our own figure, no source', () => {
    // 33 m from pieces of 3 and 5 m takes seven (6·5 = 30 < 33).
    const of = (spanM: number) => raised(withFixture(cleanProject(), 'R1f3', { spanM }));
    expect(of(33)).toMatchObject([{ limit: 'no-stock-pieces', severity: 'watch', value: 33 }]);
    expect(of(30)).toEqual([]);
  });

  test('a load that was not read twice: one fixture of its own watts wins over its type', () => {
    const own = withFixture(oneLoad(960), 'R1f1', { loadW: 480 });
    expect(raised(own)).toEqual([]);
  });
});
