import { describe, expect, test } from 'vitest';
import type { Project } from '../../src-shared/document/project.ts';
import { countFindings, summarySentence } from '../../src-shared/limits/finding.ts';
import type { LimitId } from '../../src-shared/limits/limit.ts';
import {
  cleanProject,
  findingsIn,
  notCheckedLimits,
  raised,
  withCircuit,
  withFixture,
  withFixtures,
  withLine,
  withRun,
  withSupply,
  withType,
} from './build-project.ts';

// One input taken from a job where everything is given: exactly the checks that need it turn to not
// checked, nothing turns to holding that did not, and the counts follow.

/** What needs the run solved. */
const solved: readonly LimitId[] = [
  'branch-drop',
  'circuit-load',
  'fixture-under-volts',
  'line-rating',
  'no-operating-point',
];
const addresses: readonly LimitId[] = ['address-overlap', 'past-512'];

// The mode 4ch names its slots, so that a footprint is known without the type (an assumption, listed).
const clean = cleanProject();
const inputs: readonly (readonly [string, Project, readonly LimitId[]])[] = [
  [
    'watts of a type',
    withType(clean, 'U1', { loadW: null }),
    [...solved, 'missing-value', 'unlikely-value'],
  ],
  [
    'power factor',
    withType(clean, 'U1', { powerFactor: null }),
    [...solved, 'missing-value', 'unlikely-value'],
  ],
  [
    'supply voltage',
    withRun(clean, 'R1', { supplyV: null }),
    [...solved, 'missing-value', 'mixed-voltage', 'run-length', 'unlikely-value', 'wrong-voltage'],
  ],
  [
    'home run',
    withRun(clean, 'R1', { homeRunM: null }),
    [...solved, 'missing-value', 'unlikely-value'],
  ],
  ['conductor', withLine(clean, 'K1', { resistanceOhmPerKm: null }), [...solved, 'missing-value']],
  [
    'a readable conductor',
    withLine(clean, 'K1', { resistanceOhmPerKm: null, conductor: '3/8 rope' }),
    [...solved, 'missing-value'],
  ],
  [
    'a readable home run conductor',
    withRun(clean, 'R1', { homeRunConductor: 'rope' }),
    [...solved, 'missing-value'],
  ],
  [
    'a span',
    withFixture(clean, 'R1f3', { spanM: null }),
    [...solved, 'missing-value', 'no-stock-pieces', 'run-length', 'unlikely-value'],
  ],
  [
    'the lead-in',
    withFixture(clean, 'R1f1', { spanM: null }),
    [...solved, 'missing-value', 'no-stock-pieces', 'run-length', 'unlikely-value'],
  ],
  [
    'the span of a stated installed length',
    withFixture(clean, 'R1f3', { spanM: null, installedM: 3 }),
    ['no-stock-pieces', 'unlikely-value'],
  ],
  [
    'a place',
    withFixture(clean, 'R1f4', { place: null }),
    [...solved, 'broken-chain', 'missing-value'],
  ],
  [
    'the line',
    withRun(clean, 'R1', { line: null }),
    [...solved, 'breaker-over-line', 'missing-value', 'no-stock-pieces', 'run-length'],
  ],
  ['rating of the line', withLine(clean, 'K1', { ratingA: null }), ['line-rating']],
  [
    'largest breaker of the line',
    withLine(clean, 'K1', { maxUpstreamBreakerA: null }),
    ['breaker-over-line'],
  ],
  ['listed length', withLine(clean, 'K1', { lengthLimits: [] }), ['run-length']],
  [
    'listed length at this voltage',
    withLine(clean, 'K1', { lengthLimits: [{ supplyV: 208, maxLengthM: 60 }] }),
    ['run-length'],
  ],
  ['stock lengths', withLine(clean, 'K1', { jumperLengthsM: [] }), ['no-stock-pieces']],
  ['breaker', withCircuit(clean, 'c1', { breakerA: null }), ['breaker-over-line', 'circuit-load']],
  ['protection', withCircuit(clean, 'c1', { protection: null }), ['leakage']],
  ['a readable protection', withCircuit(clean, 'c1', { protection: 'yes' }), ['leakage']],
  ['panel', withCircuit(clean, 'c1', { panel: null }), ['mixed-voltage']],
  [
    'voltages of the panel',
    withSupply(clean, 'P1', { lineToLineV: null, lineToNeutralV: null }),
    ['mixed-voltage'],
  ],
  ['the panel among the supplies', { ...clean, supplies: [] }, ['mixed-voltage']],
  ['leakage', withType(clean, 'U1', { leakageMa: null }), ['leakage']],
  ['unit load', withType(clean, 'U1', { unitLoad: null }), ['unit-loads']],
  [
    'lowest input voltage',
    withType(clean, 'U1', { absoluteMinV: null, printedMinV: null }),
    ['fixture-under-volts', 'wrong-voltage'],
  ],
  [
    'highest input voltage',
    withType(clean, 'U1', { absoluteMaxV: null, printedMaxV: null }),
    ['wrong-voltage'],
  ],
  [
    'type of one fixture',
    withFixture(clean, 'R1f2', { type: null }),
    [...solved, 'leakage', 'missing-value', 'unit-loads', 'unlikely-value', 'wrong-voltage'],
  ],
  [
    'a known type',
    withFixture(clean, 'R1f2', { type: 'U9' }),
    [...solved, 'leakage', 'missing-value', 'unit-loads', 'unlikely-value', 'wrong-voltage'],
  ],
  [
    'mode',
    withFixture(clean, 'R1f2', { mode: null }),
    [...addresses, 'footprint-unknown', 'unlikely-value'],
  ],
  ['modes of the type', withType(clean, 'U1', { modes: [] }), []],
  ['universe', withFixtures(clean, 'R1', { universe: null }), ['address-overlap', 'two-universes']],
  ['what a fixture is fed from', withFixture(clean, 'R1f3', { fedFrom: null }), ['branch']],
  ['tag', withFixture(clean, 'R2f4', { tag: null }), ['duplicate-tag']],
  ['run of the last fixture', withFixture(clean, 'R1f4', { run: null }), ['missing-value']],
  [
    'the run a fixture names',
    { ...clean, runs: clean.runs.filter((r) => r.name !== 'R2') },
    ['missing-value'],
  ],
];

describe('without one input', () => {
  test.each(inputs)('%s', (_, project, expected) => {
    expect(raised(project)).toEqual([]);
    expect(notCheckedLimits(project)).toEqual([...expected].sort());
    const findings = findingsIn(project);
    const counts = countFindings(findings);
    expect(counts.notChecked).toBe(findings.length);
    expect(counts.notChecked).toBeGreaterThanOrEqual(expected.length);
    expect(summarySentence(counts)).toBe(
      `No limit found broken with the data given; ${findings.length} not checked.`,
    );
  });

  test('each is said once a place: no limit repeats itself for one run', () => {
    for (const [, project] of inputs) {
      const keys = findingsIn(project).map((f) => `${f.limit} ${f.scope} ${f.id}`);
      expect(new Set(keys).size).toBe(keys.length);
    }
  });
});

describe('what is broken stays broken', () => {
  test('leakage over the trip with one fixture unknown, unit loads over with one unknown', () => {
    const unknown = { leakageMa: null, unitLoad: null };
    const heavy = withType(clean, 'U1', { leakageMa: null, unitLoad: null });
    const job = ['R1f1', 'R1f2', 'R1f3'].reduce(
      (p, id) => withFixture(p, id, { leakageMa: 1.5, unitLoad: 11 }),
      withFixture(heavy, 'R1f4', unknown),
    );
    // 3·1.5 = 4.5 mA > 4 mA; 3·11 + 1 = 34 > 32, whatever the fourth takes.
    expect(raised(job).map((f) => [f.limit, f.severity, f.value])).toEqual([
      ['leakage', 'breach', 4.5],
      ['unit-loads', 'breach', 34],
    ]);
  });

  test('too many amps with the home run unknown: it can but add', () => {
    const job = withRun(withLine(clean, 'K1', { ratingA: 0.7 }), 'R1', { homeRunM: null });
    const found = findingsIn(job).filter((f) => f.limit === 'line-rating');
    expect(found.map((f) => f.severity)).toEqual(['stop']);
  });
});
