import { expect, test } from 'vitest';
import type { Fixture } from '../../src-shared/document/project.ts';
import { cleanProject, raised, withFixture } from './build-project.ts';

// Checks look first whether anything is wrong at all, and word it only then. These jobs look right
// at first sight.

const clean = cleanProject();
const limitsOf = (id: string, patch: Partial<Fixture>, then: Partial<Fixture> = {}) => {
  const next = `${id.slice(0, -1)}${Number(id.at(-1)) + 1}`;
  return raised(withFixture(withFixture(clean, id, patch), next, then)).map((f) => f.limit);
};

test('a tag that reads like the head box makes two chains from it', () => {
  expect(limitsOf('R1f1', { tag: 'Box' }, { fedFrom: 'Box' })).toEqual(['branch']);
});

test('a feeder is the same in other letters; two tags that differ in letters only are one', () => {
  expect(limitsOf('R1f1', { tag: 'r1-a' }, { fedFrom: ' R1-A ' })).toEqual([]);
  const twins = withFixture(clean, 'R1f2', { tag: 'x' });
  const fed = withFixture(withFixture(twins, 'R1f3', { tag: 'X', fedFrom: 'x' }), 'R1f4', {
    fedFrom: 'X',
  });
  expect(raised(fed).map((f) => f.limit)).toEqual(['branch', 'duplicate-tag']);
});

test('slots outside 1 to 512 and between whole slots are compared as they stand', () => {
  for (const address of [-9, 4.5]) {
    const both = withFixture(withFixture(clean, 'R1f1', { address }), 'R1f2', { address });
    expect(raised(both).map((f) => f.limit)).toContain('address-overlap');
  }
});
