/** The line that says what another reading changed. */
import { expect, test } from 'vitest';
import { effectWords, readEffect } from '../../src-renderer/state/import-effect.ts';
import { blankFixture, blankProject, blankType } from '../../src-shared/document/blank.ts';
import type { Project } from '../../src-shared/document/project.ts';

const none = { stop: 0, breach: 0, watch: 0, note: 0, notChecked: 0 };
const before: Project = {
  ...blankProject('job'),
  fixtures: ['a', 'b', 'c'].map((id) => ({ ...blankFixture(id), tag: id })),
};

test('fixtures are counted by id; a fixture whose row moved in the file is not changed', () => {
  const [a, b] = before.fixtures;
  if (a === undefined || b === undefined) throw new Error('no fixtures');
  const origin = { file: 0, sheet: 'S', row: 9, cells: [] };
  const fixtures = [
    { ...a, origin },
    { ...b, loadW: 46 },
    { ...blankFixture('d'), tag: 'd' },
  ];
  expect(readEffect(before, { ...before, fixtures })).toMatchObject({
    added: 1,
    removed: 1,
    changed: 1,
  });
});

test('a run that says something else changes its fixtures', () => {
  const circuit = { id: 'c1', panel: 'LP', name: '1', breakerA: 20, protection: null };
  const fixtures = before.fixtures.map((f) => ({ ...f, run: f.id === 'c' ? 'R2' : 'R1' }));
  const run = {
    name: 'R1',
    supplyV: 120,
    circuitId: 'c1',
    line: null,
    conductor: null,
    homeRunM: null,
    leadInM: null,
    homeRunConductor: null,
    dataOutput: null,
    locks: [],
  };
  const was = { ...before, fixtures, runs: [run], circuits: [circuit] };
  const now = { ...was, circuits: [{ ...circuit, breakerA: 15 }] };
  expect(readEffect(was, now).changed).toBe(2);
});

test('words: counts with their direction, nothing where nothing changed', () => {
  const quiet = { added: 0, removed: 0, changed: 0, types: 0, lines: 0, panels: 0 };
  expect(effectWords(quiet, none, none)).toBe('no fixture changed; findings as before');
  expect(effectWords({ ...quiet, changed: 3 }, { ...none, breach: 1 }, none)).toBe(
    '3 fixtures changed; 1 breach less',
  );
  expect(
    effectWords({ ...quiet, added: 5, removed: 1, types: 1 }, none, {
      ...none,
      stop: 2,
      notChecked: 1,
    }),
  ).toBe('5 fixtures more, 1 fixture less, 1 type changed; 2 stops more, 1 not checked more');
});

test('a type that says something else, or is new, is a type changed', () => {
  const [was, now] = [blankType('F1'), { ...blankType('F1'), loadW: 24 }];
  expect(readEffect({ ...before, types: [was] }, { ...before, types: [now] }).types).toBe(1);
  expect(readEffect(before, { ...before, types: [was, blankType('F2')] }).types).toBe(2);
});
