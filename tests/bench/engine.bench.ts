import { describe, expect, it } from 'vitest';
import type { EngineSession } from '../../src-shared/session/engine-session.ts';
import { bundled } from './bundle.ts';
import { makeBareInput, makeBareOutput } from './kernel.ts';
import { makeJob, perRun } from './make-job.ts';
import { median, print } from './print.ts';

const { engine } = await bundled<typeof import('./engine-parts.ts')>('./engine-parts.ts');

/** Milliseconds of each of `rounds` calls. */
function times(rounds: number, run: () => unknown): number[] {
  return Array.from({ length: rounds }, () => {
    const start = performance.now();
    run();
    return performance.now() - start;
  });
}

/** Nothing is wrong with the job, and every run of it is built alike: all must have the same volts. */
function expectSolved(session: EngineSession): void {
  expect(session.findings.filter((f) => f.severity !== 'note').map((f) => f.message)).toEqual([]);
  const first = session.runs.get('R1')?.nominal;
  expect(first?.voltsV).toHaveLength(perRun);
  for (const run of session.runs.values()) expect(run.nominal?.voltsV).toEqual(first?.voltsV);
}

/** Bytes of heap and of typed arrays in use; null where the collector cannot be called. */
function bytesInUse(): number | null {
  if (globalThis.gc === undefined) return null;
  // What a first pass frees lets a second one free more (typed arrays, closures).
  for (let pass = 0; pass < 3; pass += 1) globalThis.gc();
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  return heapUsed + arrayBuffers;
}

describe('engine', () => {
  for (const count of [1_000, 10_000, 100_000]) {
    it(`solves and checks ${count} fixtures`, () => {
      const project = makeJob(count);
      const { EngineSession, bareKernel } = engine;
      expectSolved(new EngineSession(project));
      const rounds = count > 50_000 ? 9 : 31;
      const whole = times(rounds, () => new EngineSession(project).findings);
      const input = makeBareInput(Math.ceil(count / perRun), perRun);
      const output = makeBareOutput(input);
      bareKernel(input, output);
      const bare = times(rounds, () => bareKernel(input, output));
      const [ms, bareMs] = [median(whole), median(bare)];
      const each = (value: number) => `${((value * 1e6) / count).toFixed(0)} ns a fixture`;
      print(
        `full solve and check, ${count} fixtures`,
        `${ms.toFixed(2)} ms (best ${Math.min(...whole).toFixed(2)}), ${each(ms)}`,
      );
      print(
        '  ratio to the bare kernel (one level, no findings)',
        `${(ms / bareMs).toFixed(1)}: kernel ${bareMs.toFixed(2)} ms, ${each(bareMs)}`,
      );
    });
  }

  it('holds 100,000 fixtures', () => {
    const count = 100_000;
    const project = makeJob(count);
    const before = bytesInUse();
    const session = new engine.EngineSession(project);
    expect(session.findings).toEqual([]);
    const after = bytesInUse();
    expect(session.runs.size).toBe(count / perRun);
    print(
      'held by the engine, 100,000 fixtures',
      before === null || after === null
        ? 'not measured: the collector cannot be called without --expose-gc'
        : `${((after - before) / count).toFixed(0)} bytes a fixture`,
    );
  });

  it('takes one edit in 10,000 fixtures', () => {
    const { applyCommand, editCell, EngineSession } = engine;
    let project = makeJob(10_000);
    const session = new EngineSession(project);
    const kinds: [string, 'load' | 'span' | 'address', (i: number) => number][] = [
      ['watts', 'load', (i) => 20 + (i % 10)],
      ['span', 'span', (i) => 2 + (i % 3)],
      ['start address', 'address', (i) => 1 + (i % 400)],
    ];
    for (const [name, column, value] of kinds) {
      const solve: number[] = [];
      const whole: number[] = [];
      for (let i = 0; i < 300; i += 1) {
        const id = `f${((i * 37) % 10_000) + 1}`;
        const start = performance.now();
        const edit = editCell(project, id, column, value(i));
        if (!edit.ok) throw new Error(edit.reason);
        const applied = applyCommand(project, edit.command);
        if (!applied.ok) throw new Error(applied.reason);
        const before = performance.now();
        session.update(applied.project, edit.command.changes);
        const counted = session.findings.length;
        const end = performance.now();
        expect(counted).toBeGreaterThanOrEqual(0);
        project = applied.project;
        solve.push(end - before);
        whole.push(end - start);
      }
      print(
        `one edited ${name} in 10,000`,
        `engine ${(median(solve) * 1000).toFixed(0)} µs, with command ${(median(whole) * 1000).toFixed(0)} µs; ${session.findings.length} findings`,
      );
    }
    const fresh = new EngineSession(project);
    expect(session.findings).toEqual(fresh.findings);
    for (const [name, run] of fresh.runs)
      expect(session.runs.get(name)?.nominal).toEqual(run.nominal);
  });
});
