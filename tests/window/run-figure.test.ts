import { describe, expect, test } from 'vitest';
import { placeRun, roundTicks, voltRange } from '../../src-renderer/charts/run-figure.ts';
import { demoJob } from './demo-rows.ts';

const frame = { width: 400, left: 40, right: 40 };

function runOf(name: string, job = demoJob()) {
  const run = job.session.runs.get(name);
  if (run === undefined) throw new Error(name);
  return run;
}

describe('the run in its figure', () => {
  test('to the scale of the cable: home run 120 ft of 387 ft for A1', () => {
    const figure = placeRun(runOf('A1'), frame);
    expect(figure?.toScale).toBe(true);
    expect(figure?.boxX).toBeCloseTo(40 + (320 * 120) / 387, 9);
    expect(figure?.tapX.at(-1)).toBeCloseTo(360, 9);
    expect(figure?.tapX[0]).toBeCloseTo(40 + (320 * 132) / 387, 9);
  });

  test('evenly spaced when a length is missing, and it says so', () => {
    const job = demoJob();
    job.edit('A-05', 'span', null);
    const figure = placeRun(runOf('A1', job), frame);
    expect(figure?.toScale).toBe(false);
    const steps = (figure?.tapX ?? []).slice(1).map((x, at) => x - (figure?.tapX[at] ?? 0));
    for (const step of steps) expect(step).toBeCloseTo(steps[0] ?? 0, 9);
  });

  test('the profile spans the limit, the low end and the high supply', () => {
    const run = runOf('A1');
    const range = voltRange(run, 201.76);
    expect(range?.lowV).toBeLessThan(run.low?.voltsV.at(-1) ?? 0);
    expect(range?.highV).toBeGreaterThan(218.4);
    const ticks = roundTicks(range ?? { lowV: 0, highV: 1 });
    expect(ticks).toEqual([190, 200, 210, 220].filter((t) => t <= (range?.highV ?? 0)));
  });

  test('no range where nothing is solved', () => {
    const job = demoJob();
    for (const n of [1, 2, 3]) job.edit(`A-0${n}`, 'load', 60_000);
    expect(voltRange(runOf('A1', job), 200)).toBe(null);
  });
});
