import { describe, expect, test } from 'vitest';
import type { Project } from '../../src-shared/document/project.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';
import { projectTakeoff } from '../../src-shared/session/project-takeoff.ts';
import {
  cleanProject,
  raised,
  shortened,
  withCircuit,
  withLine,
  withRun,
  withSettings,
  withSupply,
  withType,
} from './build-project.ts';

// Common practice, no source.

/** `count` fixtures of 250 W at unity power factor on one run whose cable is negligible, but there. */
function lineOf(count: number, supplyV: number, breakerA: number): Project {
  const p = cleanProject();
  const model = p.fixtures[0];
  if (model === undefined) throw new Error('no model');
  const fixtures = Array.from({ length: count }, (_, i) => ({
    ...model,
    id: `f${i}`,
    tag: `T${i}`,
    place: i + 1,
    fedFrom: i === 0 ? 'BOX' : `T${i - 1}`,
    spanM: 0.001,
    address: 1 + 4 * i,
  }));
  const type = withType({ ...p, fixtures }, 'U1', { loadW: 250, leakageMa: 0, unitLoad: 0.125 });
  const line = withLine(type, 'K1', {
    ratingA: 15,
    jumperLengthsM: [0.001],
    lengthLimits: [{ supplyV, maxLengthM: 60 }],
  });
  const supply = withSupply(line, 'P1', { lineToLineV: null, lineToNeutralV: supplyV });
  return withRun(withCircuit(supply, 'c1', { breakerA }), 'R1', { supplyV, homeRunM: 0.001 });
}

/** The most fixtures that break neither the line nor the circuit at nominal supply. */
function most(supplyV: number, breakerA: number): number {
  for (let count = 1; count < 40; count += 1) {
    const broken = raised(lineOf(count, supplyV, breakerA)).filter((f) => f.severity !== 'watch');
    if (broken.length > 0) {
      expect(broken.map((f) => f.run)).toEqual(broken.map(() => 'R1'));
      return count - 1;
    }
  }
  return 40;
}

describe('250 W fixtures on a 15 A line of negligible length', () => {
  // floor(15·120/250) = floor(7.2) = 7; floor(15·277/250) = floor(16.62) = 16. The circuit is left
  // out of it: a 40 A breaker (the line’s listing would forbid it, and says so, apart).
  test.each([
    [120, 7],
    [277, 16],
  ])('at %d V %d fit the line', (supplyV, fit) => {
    const roomy = (count: number) =>
      raised(
        withLine(lineOf(count, supplyV, 40), 'K1', {
          ratingA: 15,
          maxUpstreamBreakerA: 40,
          lengthLimits: [{ supplyV, maxLengthM: 60 }],
        }),
      )
        .filter((f) => f.severity !== 'watch')
        .map((f) => `${f.limit} ${f.severity}`);
    expect(roomy(fit)).toEqual([]);
    expect(roomy(fit + 1)).toEqual(['line-rating stop']);
  });

  // floor(0.8·15·120/250) = floor(5.76) = 5; floor(0.8·15·277/250) = floor(13.296) = 13.
  test.each([
    [120, 5],
    [277, 13],
  ])('at %d V %d at a use factor of 0.8: a 15 A breaker under continuous load', (supplyV, fit) => {
    expect(most(supplyV, 15)).toBe(fit);
    const [broken] = raised(lineOf(fit + 1, supplyV, 15)).filter((f) => f.severity !== 'watch');
    expect(broken).toMatchObject({ limit: 'circuit-load', severity: 'breach', allowed: 12 });
  });

  test('change only the use factor and only the circuit moves: it is never applied twice', () => {
    const whole = withSettings(lineOf(7, 120, 15), { continuousFactor: 1 });
    expect(raised(whole).filter((f) => f.severity !== 'watch')).toEqual([]);
    expect(
      raised(lineOf(7, 120, 15))
        .filter((f) => f.severity !== 'watch')
        .map((f) => f.limit),
    ).toEqual(['circuit-load']);
  });
});

describe('conductors to terminate by hand: 8 a hard-wired fixture (3 power, 5 data), 6 a head box', () => {
  /** `total` fixtures in `runs` runs. */
  function terminations(total: number, runs: number) {
    const p = shortened(cleanProject(), 'R2', 0);
    const [model, run] = [p.fixtures[1], p.runs[0]];
    if (model === undefined || run === undefined) throw new Error('no model');
    const names = Array.from({ length: runs }, (_, i) => `L${i}`);
    const fixtures = Array.from({ length: total }, (_, i) => ({
      ...model,
      id: `f${i}`,
      tag: `T${i}`,
      run: names[i % runs] ?? null,
      place: 1 + Math.floor(i / runs),
    }));
    const project = { ...p, fixtures, runs: names.map((name) => ({ ...run, name })) };
    return projectTakeoff(new EngineSession(project)).terminations;
  }

  test.each([
    [10, 1, 80, 6],
    [100, 10, 800, 60],
    [100, 4, 800, 24],
  ])('%d fixtures in %d runs: %d against %d', (total, runs, hardWired, asRuns) => {
    expect(terminations(total, runs)).toEqual({ hardWired, asRuns });
  });

  test('the two counts are settings of the line', () => {
    const p = withLine(shortened(cleanProject(), 'R2', 0), 'K1', {
      conductorsPerFixture: 5,
      conductorsPerHeadBox: 7,
    });
    expect(projectTakeoff(new EngineSession(p)).terminations).toEqual({ hardWired: 20, asRuns: 7 });
  });
});

describe('spares: 5 %, rounded up an item, at least one', () => {
  test('of 8 taps one, of 21 two', () => {
    const p = cleanProject();
    const spares = (project: Project, item: string) =>
      projectTakeoff(new EngineSession(project)).items.find((i) => i.item === item)?.spares;
    expect(spares(p, 'Tap')).toBe(1);
    expect(spares(p, 'Terminator')).toBe(1);
    const model = p.fixtures[1];
    if (model === undefined) throw new Error('no model');
    const more = Array.from({ length: 13 }, (_, i) => ({ ...model, id: `x${i}`, place: 5 + i }));
    expect(spares({ ...p, fixtures: [...p.fixtures, ...more] }, 'Tap')).toBe(2);
  });
});
