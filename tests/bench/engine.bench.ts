import { describe, expect, it } from 'vitest';
import { applyCommand } from '../../src-shared/document/apply.ts';
import { editCell } from '../../src-shared/document/edit-cell.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';
import { bareKernel, makeBareInput, makeBareOutput } from './kernel.ts';
import { makeJob, perRun } from './make-job.ts';
import { median, print } from './print.ts';

function timed<T>(run: () => T): { ms: number; value: T } {
  const start = performance.now();
  const value = run();
  return { ms: performance.now() - start, value };
}

describe('engine', () => {
  for (const count of [1_000, 10_000, 100_000]) {
    it(`solves and checks ${count} fixtures`, () => {
      const project = makeJob(count);
      const session = new EngineSession(project);
      expect(session.findings.filter((f) => f.severity !== 'note').map((f) => f.message)).toEqual(
        [],
      );
      const first = session.runs.get('R1')?.nominal;
      for (const run of session.runs.values()) expect(run.nominal?.voltsV).toEqual(first?.voltsV);
      const rounds = count > 50_000 ? 5 : 15;
      const ms = median(
        Array.from({ length: rounds }, () => timed(() => new EngineSession(project).findings).ms),
      );
      const input = makeBareInput(Math.ceil(count / perRun), perRun);
      const output = makeBareOutput(input);
      bareKernel(input, output);
      const bare = median(
        Array.from({ length: rounds }, () => timed(() => bareKernel(input, output)).ms),
      );
      print(
        `full solve and check, ${count} fixtures`,
        `${ms.toFixed(2)} ms, ${((ms * 1e6) / count).toFixed(0)} ns a fixture; bare kernel ${bare.toFixed(2)} ms, ratio ${(ms / bare).toFixed(1)}`,
      );
    });
  }

  it('takes one edit in 10,000 fixtures', () => {
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
        `engine ${(median(solve) * 1000).toFixed(0)} µs, with command ${(median(whole) * 1000).toFixed(0)} µs`,
      );
    }
    const fresh = new EngineSession(project);
    expect(session.findings).toEqual(fresh.findings);
    for (const [name, run] of fresh.runs)
      expect(session.runs.get(name)?.nominal).toEqual(run.nominal);
  });
});
