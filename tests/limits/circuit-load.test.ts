import { describe, expect, test } from 'vitest';
import type { Project } from '../../src-shared/document/project.ts';
import { remediesOf } from './apply-remedy.ts';
import {
  findingsOf,
  oneLoad,
  shortened,
  withCircuit,
  withFixture,
  withLine,
  withRun,
} from './build-project.ts';

/**
 * Two runs of one load each on circuit c1 behind cable without resistance: 1200 W at unity power
 * factor, and `watts` at power factor `pf`.
 */
function twoRuns(watts: number, pf: number, breakerA: number): Project {
  const first = shortened(withRun(oneLoad(1200), 'R2', { circuitId: 'c1' }), 'R2', 1);
  const second = withFixture(first, 'R2f1', { loadW: watts, powerFactor: pf });
  const ideal = ['K1', 'K2'].reduce((p, k) => withLine(p, k, { resistanceOhmPerKm: 0 }), second);
  return withCircuit(ideal, 'c1', { breakerA });
}

describe('circuit load is a phasor sum', () => {
  test('5 A at unity and 5 A at 0.6 make 8.944 A, not 10 A', () => {
    // 1200/240 = 5 + 0j; 720/(0.6·240) = 5 A at −53.13° = 3 − 4j; |8 − 4j| = √80 = 8.944 A.
    const [finding] = findingsOf(twoRuns(720, 0.6, 11), 'circuit-load');
    expect(finding).toMatchObject({ severity: 'breach', level: 'nominal' });
    expect(finding?.value).toBeCloseTo(Math.sqrt(80), 9);
    expect(finding?.allowed).toBeCloseTo(8.8, 9);
    // Ten amps of arithmetic would break 0.8·12.4 = 9.92 A; the true 8.944 A only come near it.
    expect(findingsOf(twoRuns(720, 0.6, 12.4), 'circuit-load')[0]).toMatchObject({
      severity: 'watch',
    });
  });

  test('equal power factors add up like numbers', () => {
    const [finding] = findingsOf(twoRuns(1200, 1, 12), 'circuit-load');
    expect(finding?.value).toBeCloseTo(10, 9);
  });

  test('iec: the whole breaker may be used', () => {
    // IEC 60364-4-43: I_b ≤ I_n, from memory, verify in the adopted edition.
    // 10 A, and 10/0.9 = 11.11 A at −10 % supply: under 0.9·12.4 = 11.16 A.
    const job = twoRuns(1200, 1, 12.4);
    const iec = { ...job, settings: { ...job.settings, profile: 'iec' as const } };
    expect(findingsOf(iec, 'circuit-load').map((f) => f.severity)).toEqual([]);
    expect(findingsOf(withCircuit(iec, 'c1', { breakerA: 9.9 }), 'circuit-load')[0]).toMatchObject({
      severity: 'breach',
      allowed: 9.9,
    });
  });
});

test('what cannot be judged whole has no way out that was tried: the home run is missing', () => {
  const heavy = withLine(oneLoad(1910), 'K1', { ratingA: 5 });
  const job = withRun(
    {
      ...heavy,
      fixtures: heavy.fixtures.flatMap((f) =>
        f.run === 'R1'
          ? [f, { ...f, id: 'second', tag: 'S', place: 2, spanM: 3, loadW: 600 }]
          : [f],
      ),
    },
    'R1',
    { homeRunM: null },
  );
  expect(findingsOf(job, 'line-rating')[0]?.severity).toBe('stop');
  expect(remediesOf(job, 'line-rating')).toEqual([]);
  const light = {
    ...job,
    fixtures: job.fixtures.map((f) => (f.run === 'R1' ? { ...f, loadW: 700 } : f)),
  };
  expect(remediesOf(light, 'line-rating')).toEqual([]);
  // With it the split is tried, and holds.
  expect(remediesOf(withRun(light, 'R1', { homeRunM: 20 }), 'line-rating')[0]).toMatch(
    /^Split the run 1 \+ 1/,
  );
});
