import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { applyCommand } from '../../src-shared/document/apply.ts';
import {
  type History,
  perform,
  redo,
  startHistory,
  undo,
} from '../../src-shared/document/history.ts';
import type { Project } from '../../src-shared/document/project.ts';
import { listAssumptions } from '../../src-shared/session/assumptions.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';
import { projectTakeoff } from '../../src-shared/session/project-takeoff.ts';
import { remediesFor } from '../../src-shared/session/remedies.ts';
import { LevelResult } from '../../src-shared/solve/run-result.ts';
import { seededRandom } from '../electrical/random-runs.ts';
import { randomCommand } from './random-commands.ts';
import { deepFreeze, randomProject } from './random-project.ts';

// Kept seeds; fast-check prints the seed and the shrunk list of actions of a failure.

const jobs = fc.record({
  job: fc.integer(),
  actions: fc.array(fc.integer(), { minLength: 15, maxLength: 40, size: 'max' }),
});

/** All bits of numbers, in hexadecimal: −0 and 0 differ, NaN equals itself. */
function bits(numbers: Float64Array): string {
  return Buffer.from(numbers.buffer, numbers.byteOffset, numbers.byteLength).toString('hex');
}

/** Everything a session answers, as text: typed arrays bit for bit, findings and maps in order. */
function everything(session: EngineSession): unknown {
  const plain = (_: string, value: unknown) => {
    if (value instanceof Float64Array) return bits(value);
    // What is worked out at the asking is no field of its own.
    if (value instanceof LevelResult) {
      const { currentA, cumulativeA, throughA } = value;
      return { ...value, currentA, cumulativeA, throughA };
    }
    return value instanceof Map || value instanceof Set ? [...value] : value;
  };
  const facts = session.project.fixtures.map((f) => session.factsOf(f.id));
  return JSON.parse(
    JSON.stringify(
      {
        runs: session.runs,
        plan: [...session.plan].sort(([a], [b]) => (a < b ? -1 : 1)),
        findings: session.findings,
        circuits: session.circuits,
        facts,
        takeoff: projectTakeoff(session),
        assumptions: listAssumptions(session.project, session),
      },
      plain,
    ),
  );
}

/** Plays actions; `seen` is called after each that changed something. */
function play(
  { job, actions }: { job: number; actions: readonly number[] },
  seen: (before: Project, after: History, session: EngineSession) => void,
): { start: string; history: History; done: number } {
  const project = deepFreeze(randomProject(seededRandom(job)));
  const start = JSON.stringify(project);
  const session = new EngineSession(project);
  let history = startHistory(project);
  let done = 0;
  for (const action of actions) {
    const random = seededRandom(action);
    const command = randomCommand(random, history.project);
    if (command === null || command.changes.length === 0) continue;
    deepFreeze(command);
    const step = perform(history, command);
    expect(step.ok ? '' : step.reason).toBe('');
    if (!step.ok) continue;
    const before = history.project;
    history = step.history;
    deepFreeze(history.project);
    session.update(history.project, step.applied.changes);
    done += 1;
    seen(before, history, session);
  }
  return { start, history, done };
}

describe('incremental = made anew', () => {
  test('after every action: results bit for bit, plan, findings in order, takeoff, assumptions', () => {
    let steps = 0;
    fc.assert(
      fc.property(jobs, (given) => {
        play(given, (_, history, session) => {
          expect(everything(session)).toEqual(everything(new EngineSession(history.project)));
          steps += 1;
        });
      }),
      { seed: 101, numRuns: 90 },
    );
    expect(steps).toBeGreaterThan(1000);
  });

  test('undo and redo, taken into the same session', () => {
    fc.assert(
      fc.property(jobs, (given) => {
        const { history } = play(given, () => {});
        const session = new EngineSession(history.project);
        let now = history;
        for (const back of [undo, redo]) {
          for (let step = back(now); step?.ok === true; step = back(now)) {
            now = step.history;
            session.update(now.project, step.applied.changes);
          }
          expect(everything(session)).toEqual(everything(new EngineSession(now.project)));
        }
      }),
      { seed: 102, numRuns: 60 },
    );
  });
});

describe('undo', () => {
  test('undo of every step gives the document of the start, byte for byte; redo that of the end', () => {
    let steps = 0;
    fc.assert(
      fc.property(jobs, (given) => {
        const { start, history, done } = play(given, () => {});
        expect(history.past).toHaveLength(done);
        const texts: string[] = [JSON.stringify(history.project)];
        let now = history;
        for (let step = undo(now); step !== null; step = undo(now)) {
          expect(step.ok).toBe(true);
          if (!step.ok) return;
          now = step.history;
          deepFreeze(now.project);
          texts.push(JSON.stringify(now.project));
          steps += 1;
        }
        expect(texts.at(-1)).toBe(start);
        for (let step = redo(now); step !== null; step = redo(now)) {
          expect(step.ok).toBe(true);
          if (!step.ok) return;
          now = step.history;
          texts.pop();
          expect(JSON.stringify(now.project)).toBe(texts.at(-1));
        }
        expect(texts).toHaveLength(1);
      }),
      { seed: 103, numRuns: 200 },
    );
    expect(steps).toBeGreaterThan(1500);
  });

  test('a command is all or nothing: one that fails in its last change leaves no trace', () => {
    fc.assert(
      fc.property(jobs, ({ job, actions }) => {
        const project = deepFreeze(randomProject(seededRandom(job)));
        const text = JSON.stringify(project);
        const command = randomCommand(seededRandom(actions[0] ?? 0), project);
        const missing = { kind: 'remove', table: 'fixtures', keys: ['no such row'] } as const;
        const applied = applyCommand(project, {
          label: 'fails',
          changes: [...(command?.changes ?? []), missing],
        });
        expect(applied).toEqual({ ok: false, reason: expect.stringContaining('no such row') });
        expect(JSON.stringify(project)).toBe(text);
      }),
      { seed: 104, numRuns: 100 },
    );
  });
});

describe('findings', () => {
  test('ids are unique, fixtures and cells are in the project, words are whole', () => {
    let count = 0;
    fc.assert(
      fc.property(jobs, (given) => {
        play(given, (_, { project }, session) => {
          const { findings } = session;
          expect(new Set(findings.map((f) => f.id)).size).toBe(findings.length);
          const runs = new Map(project.fixtures.map((f) => [f.id, f.run]));
          for (const f of findings) {
            count += 1;
            expect(f.message).not.toMatch(/NaN|undefined|null|Infinity|\[object|complian[t]/);
            expect(f.message).not.toContain('\u0000');
            expect(f.id).not.toContain('\u0000');
            expect(new Set(f.fixtureIds).size).toBe(f.fixtureIds.length);
            for (const id of f.fixtureIds) {
              expect(runs.has(id)).toBe(true);
              if (f.run !== null) expect(runs.get(id)).toBe(f.run);
            }
            for (const { fixtureId } of f.marks) expect(runs.has(fixtureId)).toBe(true);
            expect(f.value === null || Number.isFinite(f.value)).toBe(true);
            expect(f.allowed === null || Number.isFinite(f.allowed)).toBe(true);
          }
        });
      }),
      { seed: 105, numRuns: 30 },
    );
    expect(count).toBeGreaterThan(5000);
  });

  test('remedies and reading a session change nothing in it', () => {
    fc.assert(
      fc.property(fc.integer(), (job) => {
        const project = deepFreeze(randomProject(seededRandom(job)));
        const session = new EngineSession(project);
        const before = everything(session);
        for (const finding of session.findings) {
          for (const remedy of remediesFor(finding, session)) {
            expect(remedy).not.toMatch(/NaN|undefined|null|Infinity|\[object|complian[t]/);
          }
        }
        expect(everything(session)).toEqual(before);
      }),
      { seed: 106, numRuns: 60 },
    );
  });

  test('same input, same output, whatever was solved before', () => {
    fc.assert(
      fc.property(fc.integer(), fc.integer(), (job, other) => {
        const first = everything(new EngineSession(randomProject(seededRandom(job))));
        everything(new EngineSession(randomProject(seededRandom(other), 60)));
        expect(everything(new EngineSession(randomProject(seededRandom(job))))).toEqual(first);
      }),
      { seed: 107, numRuns: 60 },
    );
  });
});
