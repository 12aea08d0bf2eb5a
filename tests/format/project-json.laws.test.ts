import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readProject, writeProject } from '../../src-shared/format/project-json.ts';
import { anyProject } from './arbitrary-project.ts';

// Laws, checked on random projects with a kept seed: no outside source is needed.

/** The same value with the fields of every object in another order. */
function reordered(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(reordered);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .reverse()
      .map(([name, held]) => [name, reordered(held)]),
  );
}

test('reading what was written gives the project back, nothing lost, nothing added', () => {
  fc.assert(
    fc.property(anyProject, (project) => {
      expect(readProject(writeProject(project))).toEqual({ ok: true, project, migrated: false });
    }),
    { seed: 20_101, numRuns: 500 },
  );
});

test('equal projects give the same bytes, whatever the order of their fields', () => {
  fc.assert(
    fc.property(anyProject, (project) => {
      const text = writeProject(project);
      expect(writeProject(reordered(project) as typeof project)).toBe(text);
      const read = readProject(text);
      expect(read.ok && writeProject(read.project)).toBe(text);
    }),
    { seed: 20_102, numRuns: 300 },
  );
});

test('no text makes the reader throw, and a reason is complete', () => {
  const whole = writeProject(fc.sample(anyProject, { seed: 20_103, numRuns: 1 })[0] ?? never());
  const altered = fc
    .tuple(fc.nat(whole.length), fc.nat(40), fc.string({ maxLength: 8 }))
    .map(([at, gone, put]) => whole.slice(0, at) + put + whole.slice(at + gone));
  fc.assert(
    fc.property(fc.oneof(fc.string(), fc.json(), altered), (text) => {
      const read = readProject(text);
      if (read.ok) return;
      for (const words of Object.values(read.reason)) expect(words).not.toBe('');
    }),
    { seed: 20_104, numRuns: 2_000 },
  );
});

function never(): never {
  throw new Error('no sample');
}
