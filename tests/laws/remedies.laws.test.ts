import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Project } from '../../src-shared/document/project.ts';
import type { LimitId } from '../../src-shared/limits/limit.ts';
import { seededRandom } from '../electrical/random-runs.ts';
import { longRun, remediesOf, renumber, split, stillBroken } from '../limits/apply-remedy.ts';
import { withLine, withRun, withSettings, withType } from '../limits/build-project.ts';
import { pick, whole } from './random-project.ts';

// Whatever the job, a remedy that names a trial does what it says. Seeds kept.

/** A run of 5 to 24 fixtures with uneven spans and loads, likely to break something. */
function brokenRun(seed: number): Project {
  const random = seededRandom(seed);
  const count = whole(random, 5, 24);
  const p = longRun(count, pick(random, [50, 120, 220]));
  const fixtures = p.fixtures.map((f) => ({
    ...f,
    spanM: whole(random, 5, 80) / 10,
    installedM: random() < 0.1 ? whole(random, 3, 9) : null,
    loadW: random() < 0.2 ? whole(random, 0, 300) : null,
    fedFrom: null,
  }));
  const typed = withType({ ...p, fixtures }, 'U1', {
    powerFactor: pick(random, [1, 0.9]),
    absoluteMinV: pick(random, [90, 222]),
  });
  const lined = withLine(typed, 'K1', {
    resistanceOhmPerKm: null,
    conductor: pick(random, ['14 AWG', '2.5 mm²']),
    ratingA: pick(random, [4, 10]),
    lengthLimits: [{ supplyV: 240, maxLengthM: pick(random, [40, 90]) }],
    leadInCuttable: random() < 0.5,
  });
  const set = withSettings(lined, { branchDropBinding: random() < 0.5 });
  return withRun(set, 'R1', { homeRunM: whole(random, 5, 250), leadInM: pick(random, [null, 6]) });
}

/** What each remedy says, done; null for one that names no trial. */
function done(project: Project, remedy: string): Project | null {
  const cut = /^Split the run ([\d +]+):/.exec(remedy)?.[1];
  if (cut !== undefined) return split(project, cut.split(' + ').map(Number));
  const off = /^Take the last (?:fixture|(\d+) fixtures) off/.exec(remedy);
  if (off !== null) {
    const members = project.fixtures.filter((f) => f.run === 'R1');
    const gone = new Set(members.slice(-Number(off[1] ?? 1)).map((f) => f.id));
    return { ...project, fixtures: project.fixtures.filter((f) => !gone.has(f.id)) };
  }
  const home = /^A home run of ([^:]+):/.exec(remedy)?.[1];
  if (home !== undefined) return withRun(project, 'R1', { homeRunConductor: home });
  if (remedy.startsWith('Stock pieces by least excess')) {
    return withLine(project, 'K1', { pieceChoice: 'least-excess' });
  }
  return null;
}

const limits: readonly LimitId[] = [
  'line-rating',
  'run-length',
  'branch-drop',
  'fixture-under-volts',
  'no-operating-point',
];

test('split, take off, wider home run, other pieces: done, the limit holds at every level', () => {
  const tried = new Map<string, number>();
  fc.assert(
    fc.property(fc.integer(), (seed) => {
      const project = brokenRun(seed);
      for (const id of limits) {
        for (const remedy of remediesOf(project, id)) {
          const after = done(project, remedy);
          if (after === null) continue;
          expect([id, remedy, stillBroken(after, id).map((f) => f.message)]).toEqual([
            id,
            remedy,
            [],
          ]);
          const kind = `${id} ${remedy.split(' ')[0]}`;
          tried.set(kind, (tried.get(kind) ?? 0) + 1);
        }
      }
    }),
    { seed: 401, numRuns: 120 },
  );
  expect(tried.size).toBeGreaterThanOrEqual(8);
});

test('starts without overlap: typed in, nothing overlaps, shares stay together', () => {
  let repaired = 0;
  fc.assert(
    fc.property(fc.integer(), (seed) => {
      const random = seededRandom(seed);
      const p = longRun(whole(random, 5, 10), 48);
      const fixtures = p.fixtures.map((f) => ({
        ...f,
        fedFrom: null,
        mode: pick(random, ['4ch', '8ch']),
        address: whole(random, 1, 60),
        shareSet: random() < 0.2 ? 'M' : null,
      }));
      const project = { ...p, fixtures };
      for (const remedy of remediesOf(project, 'address-overlap')) {
        const starts = /as they are: (.+)\.$/.exec(remedy)?.[1] ?? '';
        if (starts.includes(' more')) continue;
        expect(stillBroken(renumber(project, starts), 'address-overlap').length).toBeLessThan(
          stillBroken(project, 'address-overlap').length,
        );
        repaired += 1;
      }
    }),
    { seed: 402, numRuns: 120 },
  );
  expect(repaired).toBeGreaterThan(60);
});
