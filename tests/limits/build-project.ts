/** A clean invented job and small pure ways to change one thing in it. */
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
  Circuit,
  Fixture,
  FixtureType,
  Line,
  Project,
  ProjectSettings,
  Run,
  Supply,
} from '../../src-shared/document/project.ts';
import type { Finding } from '../../src-shared/limits/finding.ts';
import type { LimitId } from '../../src-shared/limits/limit.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';

function chain(run: string, type: string, count: number, firstAddress: number): Fixture[] {
  const tag = (place: number) => `${run}-0${place}`;
  return Array.from({ length: count }, (_, index) => {
    const place = index + 1;
    return {
      ...blankFixture(`${run}f${place}`),
      tag: tag(place),
      type,
      run,
      place,
      fedFrom: place === 1 ? 'BOX' : tag(place - 1),
      spanM: place === 1 ? 5 : 3,
      mode: '4ch',
      universe: 1,
      address: firstAddress + 4 * index,
    };
  });
}

function type(name: string): FixtureType {
  return {
    ...blankType(name),
    loadW: 48,
    powerFactor: 1,
    printedMinV: 100,
    printedMaxV: 277,
    absoluteMinV: 90,
    absoluteMaxV: 305,
    modes: [
      { name: '4ch', footprint: 4 },
      { name: '8ch', footprint: 8 },
    ],
    unitLoad: 0.5,
    leakageMa: 0.2,
  };
}

function line(name: string): Line {
  return {
    ...blankLine(name),
    conductor: null,
    resistanceOhmPerKm: 5,
    reactanceOhmPerKm: 0,
    ratingA: 10,
    maxUpstreamBreakerA: 20,
    lengthLimits: [{ supplyV: 240, maxLengthM: 60 }],
    jumperLengthsM: [3, 5],
    leadInLengthsM: [5, 10],
    listedPowerAndData: true,
  };
}

const circuit = (id: string, name: string): Circuit => ({
  ...blankCircuit(id),
  panel: 'P1',
  name,
  breakerA: 20,
  protection: 'Class A GFCI',
});

const run = (name: string, circuitId: string, lineName: string): Run => ({
  ...blankRun(name, circuitId),
  supplyV: 240,
  line: lineName,
  homeRunM: 20,
});

/**
 * Runs R1 and R2 of four 48 W fixtures each on 240 V: each on a circuit, line and type of its own
 * (c1 and c2, K1 and K2, U1 and U2), so that one value changed touches one run. Every value that
 * any limit needs is given and nothing is broken or near.
 */
export function cleanProject(): Project {
  return {
    ...blankProject('Clean job'),
    settings: { ...blankProject('').settings, displayUnit: 'm' },
    types: [type('U1'), type('U2')],
    lines: [line('K1'), line('K2')],
    supplies: [
      {
        ...blankSupply('P1'),
        system: '120/240 V single-phase',
        phases: 1,
        lineToLineV: 240,
        lineToNeutralV: 120,
      },
    ],
    circuits: [circuit('c1', '1,3'), circuit('c2', '5,7')],
    runs: [run('R1', 'c1', 'K1'), run('R2', 'c2', 'K2')],
    fixtures: [...chain('R1', 'U1', 4, 1), ...chain('R2', 'U2', 4, 17)],
  };
}

function patched<T>(list: readonly T[], found: (item: T) => boolean, patch: Partial<T>): T[] {
  if (!list.some(found)) throw new Error('nothing to change');
  return list.map((item) => (found(item) ? { ...item, ...patch } : item));
}

export const withFixture = (p: Project, id: string, patch: Partial<Fixture>): Project => ({
  ...p,
  fixtures: patched(p.fixtures, (f) => f.id === id, patch),
});
/** Every fixture of a run changed. */
export const withFixtures = (p: Project, runName: string, patch: Partial<Fixture>): Project => ({
  ...p,
  fixtures: patched(p.fixtures, (f) => f.run === runName, patch),
});
export const withType = (p: Project, name: string, patch: Partial<FixtureType>): Project => ({
  ...p,
  types: patched(p.types, (t) => t.name === name, patch),
});
export const withLine = (p: Project, name: string, patch: Partial<Line>): Project => ({
  ...p,
  lines: patched(p.lines, (l) => l.name === name, patch),
});
export const withRun = (p: Project, name: string, patch: Partial<Run>): Project => ({
  ...p,
  runs: patched(p.runs, (r) => r.name === name, patch),
});
export const withCircuit = (p: Project, id: string, patch: Partial<Circuit>): Project => ({
  ...p,
  circuits: patched(p.circuits, (c) => c.id === id, patch),
});
export const withSupply = (p: Project, name: string, patch: Partial<Supply>): Project => ({
  ...p,
  supplies: patched(p.supplies, (s) => s.name === name, patch),
});
export const withSettings = (p: Project, patch: Partial<ProjectSettings>): Project => ({
  ...p,
  settings: { ...p.settings, ...patch },
});

/** Only the first `count` fixtures of a run are kept. */
export const shortened = (p: Project, runName: string, count: number): Project => ({
  ...p,
  fixtures: p.fixtures.filter((f) => f.run !== runName || (f.place ?? 0) <= count),
});

/**
 * Run R1 as one load of `watts` behind home run and lead-in (5 m): a two-bus circuit, whose closed
 * form is V = (V0 + √(V0² − 4·R·P))/2 at unity power factor, R = 2·(home run + 5 m)·5 ohm/km.
 */
export function oneLoad(watts: number, homeRunM = 20, p: Project = cleanProject()): Project {
  const short = withRun(shortened(p, 'R1', 1), 'R1', { homeRunM });
  return withFixture(short, 'R1f1', { loadW: watts });
}

export function findingsIn(project: Project): readonly Finding[] {
  return new EngineSession(project).findings;
}

export function findingsOf(project: Project, id: LimitId): Finding[] {
  return findingsIn(project).filter((finding) => finding.limit === id);
}

/** Stops, breaches and watches. */
export function raised(project: Project): Finding[] {
  return findingsIn(project).filter(({ severity }) => /^(?:stop|breach|watch)$/.test(severity));
}

/** Limits with at least one not-checked finding, in order of name. */
export function notCheckedLimits(project: Project): LimitId[] {
  const open = findingsIn(project).filter((f) => f.severity === 'not-checked');
  return [...new Set(open.map((f) => f.limit))].sort();
}

export function tagsOf(finding: Finding | undefined, project: Project): string[] {
  const byId = new Map(project.fixtures.map((f) => [f.id, f.tag ?? '']));
  return (finding?.fixtureIds ?? []).map((id) => byId.get(id) ?? `lost ${id}`);
}
