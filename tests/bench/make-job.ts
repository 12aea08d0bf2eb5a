/** A large invented job for the bench: runs of 20 fixtures, three runs a circuit, whole runs addressed. */
import {
  blankCircuit,
  blankFixture,
  blankLine,
  blankProject,
  blankRun,
  blankSupply,
  blankType,
} from '../../src-shared/document/blank.ts';
import type { Fixture, Project } from '../../src-shared/document/project.ts';

export const perRun = 20;
export const job = {
  supplyV: 230,
  watts: 24,
  powerFactor: 0.95,
  spanM: 2.5,
  homeRunM: 30,
  ohmPerKm: 9.548,
};

/** `count` fixtures; every value the limits need is there. */
export function makeJob(count: number): Project {
  const project = blankProject('bench');
  const runs = Math.ceil(count / perRun);
  const names = Array.from({ length: runs }, (_, r) => `R${r + 1}`);
  const fixtures: Fixture[] = [];
  for (let i = 0; i < count; i += 1) {
    const run = Math.floor(i / perRun);
    const place = (i % perRun) + 1;
    fixtures.push({
      ...blankFixture(`f${i + 1}`),
      tag: `T-${i + 1}`,
      type: 'K1',
      run: names[run] ?? null,
      place,
      fedFrom: place === 1 ? 'BOX' : `T-${i}`,
      spanM: job.spanM,
      mode: '5ch',
      universe: Math.floor(run / 5) + 1,
      address: (run % 5) * 100 + (place - 1) * 5 + 1,
    });
  }
  return {
    ...project,
    settings: { ...project.settings, profile: 'iec', defaultLine: 'L', displayUnit: 'm' },
    types: [
      {
        ...blankType('K1'),
        loadW: job.watts,
        powerFactor: job.powerFactor,
        absoluteMinV: 180,
        absoluteMaxV: 264,
        modes: [{ name: '5ch', footprint: 5 }],
        unitLoad: 0.5,
        leakageMa: 0.1,
      },
    ],
    lines: [
      {
        ...blankLine('L'),
        resistanceOhmPerKm: job.ohmPerKm,
        reactanceOhmPerKm: 0,
        ratingA: 10,
        maxUpstreamBreakerA: 16,
        maxLengthM: 120,
        jumperLengthsM: [2.5, 5],
        leadInLengthsM: [5],
      },
    ],
    supplies: [{ ...blankSupply('P'), lineToLineV: 400, lineToNeutralV: job.supplyV }],
    circuits: Array.from({ length: Math.ceil(runs / 3) }, (_, c) => ({
      ...blankCircuit(`c${c + 1}`),
      panel: 'P',
      name: String(c + 1),
      breakerA: 16,
      protection: 'RCD 30 mA',
    })),
    runs: names.map((name, r) => ({
      ...blankRun(name, `c${Math.floor(r / 3) + 1}`),
      supplyV: job.supplyV,
      homeRunM: job.homeRunM,
      leadInM: job.spanM,
    })),
    fixtures,
  };
}
