import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Project } from '../../src-shared/document/project.ts';
import { loadPhasor } from '../../src-shared/electrical/load.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';
import type { LevelResult, RunResult, SupplyLevel } from '../../src-shared/solve/run-result.ts';
import { seededRandom } from '../electrical/random-runs.ts';
import {
  cleanProject,
  withFixture,
  withFixtures,
  withLine,
  withRun,
} from '../limits/build-project.ts';
import { pick, type Random, randomProject, whole } from './random-project.ts';

// Laws of the solved document. Seeds kept.

const levels: readonly SupplyLevel[] = ['low', 'nominal', 'high'];

/** A job whose every value is given, of a likely size: most of its runs are solved. */
function likelyProject(random: Random): Project {
  const base = cleanProject();
  const { settings } = base;
  const model = base.fixtures[0];
  if (model === undefined) throw new Error('no model');
  const count = whole(random, 1, 30);
  const fixtures = Array.from({ length: count }, (_, i) => ({
    ...model,
    id: `f${i}`,
    tag: `T${i}`,
    place: i + 1,
    fedFrom: null,
    spanM: whole(random, 0, 100) / 10,
    loadW: pick(random, [0, 20, 48, 150]),
    powerFactor: pick(random, [1, 0.95, 0.7]),
    universe: null,
    address: null,
  }));
  const reactanceOhmPerKm = pick(random, [0, 0.1, 1]);
  const resistanceOhmPerKm = pick(random, [0, 1, 5, 13]);
  const job = withLine({ ...base, fixtures, settings }, 'K1', {
    reactanceOhmPerKm,
    resistanceOhmPerKm,
  });
  const homeRunConductor = pick(random, [null, '10 AWG', '6 mm²']);
  const supplyV = pick(random, [120, 208, 277]);
  return withRun(job, 'R1', { homeRunM: whole(random, 0, 80), homeRunConductor, supplyV });
}

function onlyRun(project: Project): RunResult {
  const run = new EngineSession(project).runs.get('R1');
  if (run === undefined) throw new Error('no run');
  return run;
}

/** Loop resistance of each segment, panel side first. */
function loopOhm(run: RunResult): number[] {
  return run.facts.map((_, i) => {
    const laid = 2 * (run.installedM[i] ?? Number.NaN) * (run.lineOhmPerKm ?? Number.NaN);
    const home = i === 0 ? 2 * run.homeRunM * (run.homeRunOhmPerKm ?? Number.NaN) : 0;
    return (laid + home) / 1000;
  });
}

function lossesW(run: RunResult, level: LevelResult): number {
  return loopOhm(run).reduce((sum, ohm, i) => sum + ohm * (level.throughA[i] ?? 0) ** 2, 0);
}

function loadsW(run: RunResult): number {
  return run.facts.reduce((sum, f) => sum + (f.loadW ?? 0), 0);
}

describe('power', () => {
  test('power in = loads + losses to 1e-9 relative, on every solved run at every level', () => {
    let solved = 0;
    fc.assert(
      fc.property(fc.integer(), fc.boolean(), (seed, likely) => {
        const make = likely ? likelyProject : randomProject;
        for (const run of new EngineSession(make(seededRandom(seed))).runs.values()) {
          for (const level of levels) {
            const at = run[level];
            if (at === null) continue;
            const inW = at.supplyV * at.headRe;
            const outW = loadsW(run) + lossesW(run, at);
            const apparent = at.supplyV * at.headA;
            expect(Math.abs(inW - outW)).toBeLessThanOrEqual(1e-9 * apparent);
            solved += 1;
          }
        }
      }),
      { seed: 301, numRuns: 600 },
    );
    expect(solved).toBeGreaterThan(1000);
  });

  test('each fixture takes its own volt-amperes: |S| = |V|·|I|', () => {
    fc.assert(
      fc.property(fc.integer(), (seed) => {
        const run = onlyRun(likelyProject(seededRandom(seed)));
        for (const level of levels) {
          const at = run[level];
          if (at === null) continue;
          run.facts.forEach((f, i) => {
            const load = loadPhasor(f.loadW ?? 0, f.powerFactor ?? 1);
            const va = Math.hypot(load?.activeW ?? 0, load?.reactiveVar ?? 0);
            expect((at.voltsV[i] ?? 0) * (at.currentA[i] ?? 0)).toBeCloseTo(va, 8);
          });
        }
      }),
      { seed: 302, numRuns: 200 },
    );
  });
});

describe('order of magnitude', () => {
  test('volts never rise along the run nor fall with supply; amps never rise with supply', () => {
    fc.assert(
      fc.property(fc.integer(), (seed) => {
        const run = onlyRun(likelyProject(seededRandom(seed)));
        const solved = levels.flatMap((level) => run[level] ?? []);
        for (const at of solved) {
          at.voltsV.forEach((v, i) => {
            expect(v).toBeLessThanOrEqual((at.voltsV[i - 1] ?? at.supplyV) + 1e-9);
          });
          // Through current at place 1 is the head current, cumulative at the last place as well.
          expect(at.throughA[0]).toBeCloseTo(at.headA, 9);
          expect(at.cumulativeA.at(-1)).toBeCloseTo(at.headA, 9);
        }
        solved.slice(1).forEach((at, i) => {
          const below = solved[i];
          expect(at.headA).toBeLessThanOrEqual((below?.headA ?? 0) + 1e-9);
          expect(at.voltsV.at(-1)).toBeGreaterThanOrEqual((below?.voltsV.at(-1) ?? 0) - 1e-9);
        });
      }),
      { seed: 303, numRuns: 300 },
    );
  });

  test('a fixture added at the end never raises volts anywhere, nor lowers the head current', () => {
    let compared = 0;
    fc.assert(
      fc.property(fc.integer(), (seed) => {
        const random = seededRandom(seed);
        const project = likelyProject(random);
        const last = project.fixtures.at(-1);
        if (last === undefined) return;
        const place = (last.place ?? 0) + 1;
        const added = {
          ...last,
          id: 'added',
          tag: 'added',
          place,
          loadW: whole(random, 0, 200),
          spanM: 3,
        };
        const before = onlyRun(project);
        const after = onlyRun({ ...project, fixtures: [...project.fixtures, added] });
        for (const level of levels) {
          const [a, b] = [before[level], after[level]];
          // More load may have no operating point any more, never the other way round.
          if (a === null) expect(b).toBeNull();
          if (a === null || b === null) continue;
          compared += 1;
          expect(b.headA).toBeGreaterThanOrEqual(a.headA - 1e-9);
          a.voltsV.forEach((v, i) => {
            expect(b.voltsV[i]).toBeLessThanOrEqual(v + 1e-9);
          });
        }
      }),
      { seed: 304, numRuns: 300 },
    );
    expect(compared).toBeGreaterThan(500);
  });
});

describe('what plays no part', () => {
  const volts = (run: RunResult) =>
    new Map(run.facts.map((f, i) => [f.fixture.id, run.nominal?.voltsV[i]]));

  test('the order of rows: places decide, bit for bit', () => {
    fc.assert(
      fc.property(fc.integer(), (seed) => {
        const random = seededRandom(seed);
        const project = likelyProject(random);
        const fixtures = [...project.fixtures].sort(() => random() - 0.5);
        expect(volts(onlyRun({ ...project, fixtures }))).toEqual(volts(onlyRun(project)));
      }),
      { seed: 305, numRuns: 150 },
    );
  });

  test('the direction of a uniform run: reversed with its feed it is its own mirror', () => {
    fc.assert(
      fc.property(fc.integer(), (seed) => {
        const project = withFixtures(likelyProject(seededRandom(seed)), 'R1', {
          spanM: 4,
          loadW: 48,
          powerFactor: 0.95,
        });
        const n = project.fixtures.length;
        const reversed = project.fixtures.map((f) => ({ ...f, place: n + 1 - (f.place ?? 0) }));
        const [a, b] = [onlyRun(project), onlyRun({ ...project, fixtures: reversed })];
        expect(b.nominal?.voltsV).toEqual(a.nominal?.voltsV);
        expect(b.facts.map((f) => f.fixture.id)).toEqual(
          a.facts.map((f) => f.fixture.id).reverse(),
        );
      }),
      { seed: 306, numRuns: 100 },
    );
  });

  test('half the length of twice the resistance; cable of the home run laid as lead-in', () => {
    fc.assert(
      fc.property(fc.integer(), (seed) => {
        const start = likelyProject(seededRandom(seed));
        const plain = withRun(
          withLine(start, 'K1', {
            jumperLengthsM: [],
            reactanceOhmPerKm: 0,
            resistanceOhmPerKm: 4,
          }),
          'R1',
          { homeRunConductor: null, homeRunM: 30, leadInM: 7 },
        );
        const halved = withRun(
          {
            ...withLine(plain, 'K1', { resistanceOhmPerKm: 8 }),
            fixtures: plain.fixtures.map((f) => ({ ...f, spanM: (f.spanM ?? 0) / 2 })),
          },
          'R1',
          { homeRunM: 15, leadInM: 3.5 },
        );
        const moved = withRun(plain, 'R1', { homeRunM: 0, leadInM: 37 });
        const a = onlyRun(plain).nominal;
        for (const other of [halved, moved]) {
          const b = onlyRun(other).nominal;
          expect(b === null).toBe(a === null);
          a?.voltsV.forEach((v, i) => {
            expect(b?.voltsV[i]).toBeCloseTo(v, 8);
          });
        }
      }),
      { seed: 307, numRuns: 100 },
    );
  });

  test('other runs: a run is solved the same alone and beside others, bit for bit', () => {
    fc.assert(
      fc.property(fc.integer(), (seed) => {
        const project = randomProject(seededRandom(seed), 40);
        const together = new EngineSession(project);
        for (const [name, run] of together.runs) {
          const fixtures = project.fixtures.filter((f) => f.run === name);
          const alone = new EngineSession({ ...project, fixtures }).runs.get(name);
          expect(alone).toEqual(run);
        }
      }),
      { seed: 308, numRuns: 80 },
    );
  });
});

test('a run without an operating point shows no number', () => {
  const heavy = withFixture(withRun(cleanProject(), 'R1', { homeRunM: 9000 }), 'R1f4', {
    loadW: 2000,
  });
  const run = onlyRun(heavy);
  expect(run.solved).toBe(false);
  expect([run.nominal, run.low, run.high]).toEqual([null, null, null]);
});
