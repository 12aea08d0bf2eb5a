/** The list of readings: order, state, kinds, and rows of a grid that stay the same objects. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { withAccepted, withCells } from '../../src-renderer/state/import-answer-edits.ts';
import {
  alike,
  filterReadings,
  kindOf,
  listReadings,
} from '../../src-renderer/state/reading-list.ts';
import { updateHeld } from '../../src-renderer/views/import/held-rows.ts';
import { noAnswers } from '../../src-shared/document/import-answers.ts';
import type { Confidence, Reading } from '../../src-shared/document/project.ts';

function reading(cell: string, confidence: Confidence, note: string, raw = '1'): Reading {
  return { cell, raw, column: 'load', value: 1, confidence, note };
}

const readings = [
  reading('S!A2', 'sure', 'W in the cell'),
  reading('S!A3', 'guess', 'no unit anywhere: taken as W'),
  reading('S!A4', 'refused', '"x12" is no number'),
  reading('S!A5', 'guess', 'no unit anywhere: taken as W'),
  reading('S!A6', 'refused', '"y7" is no number'),
];
const cellsOf = (list: readonly { reading: Reading }[]) => list.map((e) => e.reading.cell);

describe('the list of readings', () => {
  test('refused first, sure last, each in the order of the file', () => {
    expect(cellsOf(listReadings(readings, noAnswers))).toEqual([
      'S!A4',
      'S!A6',
      'S!A3',
      'S!A5',
      'S!A2',
    ]);
  });

  test('sure or accepted is not open; an answer that is still a guess is', () => {
    const answers = withCells(withAccepted(noAnswers, readings.slice(1, 2)), [
      { cell: 'S!A5', raw: '1', text: '12' },
    ]);
    const list = listReadings(readings, answers);
    const open = list.filter((e) => e.open);
    expect(cellsOf(open)).toEqual(['S!A4', 'S!A6', 'S!A5']);
    expect(open.at(-1)?.answered).toBe(true);
    const all = new Set<Confidence>(['refused', 'guess', 'likely', 'sure']);
    const accepted = filterReadings(list, { confidences: all, state: 'accepted' });
    expect(cellsOf(accepted)).toEqual(['S!A3']);
  });

  test('readings that differ by the text and the figures they quote are of one kind', () => {
    const list = listReadings(readings, noAnswers);
    const [refused] = list;
    expect(refused === undefined ? [] : cellsOf(alike(list, refused))).toEqual(['S!A4', 'S!A6']);
    expect(kindOf(reading('S!A1', 'guess', 'row 4 of 12'))).toBe(
      kindOf(reading('S!B9', 'guess', 'row 18 of 3')),
    );
    expect(kindOf(reading('S!A1', 'guess', 'a'))).not.toBe(kindOf(reading('S!A1', 'likely', 'a')));
  });

  test('two readings of one cell and column have keys of their own', () => {
    const list = listReadings([...readings, ...readings], noAnswers);
    expect(new Set(list.map((e) => e.key)).size).toBe(list.length);
  });
});

test('rows that say the same stay the same objects, and only others are painted (property)', () => {
  const rows = fc.uniqueArray(fc.record({ id: fc.nat(30), text: fc.nat(3) }), {
    selector: (row) => row.id,
  });
  const idOf = ({ id }: { id: number }) => String(id);
  const same = (a: { text: number }, b: { text: number }) => a.text === b.text;
  fc.assert(
    fc.property(rows, rows, (first, second) => {
      const before = updateHeld([], first, idOf, same).held;
      const texts = new Map(before.map((held) => [held.id, held.row.text]));
      const { held, changed, moved } = updateHeld(before, second, idOf, same);
      expect(held.map(({ row }) => row)).toEqual(second);
      for (const one of held) {
        const was = texts.get(one.id);
        if (was !== undefined) expect(before).toContain(one);
        expect(changed.has(one.id)).toBe(was !== undefined && was !== one.row.text);
      }
      expect(moved).toBe(first.map(idOf).join() !== second.map(idOf).join());
    }),
    { seed: 20261125, numRuns: 300 },
  );
});
