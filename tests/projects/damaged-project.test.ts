import fc from 'fast-check';
import { expect, test } from 'vitest';
import { unpackProject } from '../../src-main/projects/unpack-project.ts';
import { sampleProject } from '../format/sample-project.ts';
import { sampleFile, sampleSource } from './sample-file.ts';

const whole = sampleFile();

/** Either a reason with all its words, or exactly what was saved: never something in between. */
function expectWholeOrReason(bytes: Uint8Array): 'whole' | 'reason' {
  const unpacked = unpackProject(bytes, 'job.runledger');
  if (!unpacked.ok) {
    const { code, what, where, todo } = unpacked.reason;
    for (const words of [code, what, where, todo]) expect(words).not.toBe('');
    expect(what + todo).not.toMatch(/undefined|TypeError|RangeError|at .*\.ts/);
    return 'reason';
  }
  expect(unpacked.project).toEqual(sampleProject);
  expect(Buffer.compare(unpacked.sources[0]?.bytes ?? Buffer.of(), sampleSource.bytes)).toBe(0);
  return 'whole';
}

test('cut at every byte: a reason that says so', () => {
  for (let length = 0; length < whole.length; length += 1) {
    expect(expectWholeOrReason(whole.subarray(0, length))).toBe('reason');
  }
});

test('begun at every byte: a reason', () => {
  for (let start = 1; start < whole.length; start += 1) {
    expect(expectWholeOrReason(whole.subarray(start))).toBe('reason');
  }
});

test('10,000 random bit flips: whole or a reason', () => {
  const flip = fc.record({ at: fc.nat(whole.length - 1), bit: fc.nat(7) });
  const seen = { whole: 0, reason: 0 };
  fc.assert(
    fc.property(fc.array(flip, { minLength: 1, maxLength: 3 }), (flips) => {
      const bytes = whole.slice();
      for (const { at, bit } of flips) bytes[at] = (bytes[at] ?? 0) ^ (1 << bit);
      seen[expectWholeOrReason(bytes)] += 1;
    }),
    { seed: 20_121, numRuns: 10_000 },
  );
  // Some bits carry nothing, such as the time of a part; nearly all do.
  expect(seen.reason).toBeGreaterThan(9_000);
});

test('every bit of a project without source, one at a time', () => {
  const small = sampleFile([]);
  let caught = 0;
  for (let at = 0; at < small.length; at += 1) {
    for (let bit = 0; bit < 8; bit += 1) {
      const bytes = small.slice();
      bytes[at] = (bytes[at] ?? 0) ^ (1 << bit);
      const unpacked = unpackProject(bytes, 'job.runledger');
      if (unpacked.ok) expect(unpacked.project).toEqual(sampleProject);
      else caught += 1;
    }
  }
  expect(caught / (small.length * 8)).toBeGreaterThan(0.8);
});
