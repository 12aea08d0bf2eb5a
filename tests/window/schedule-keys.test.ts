import { describe, expect, test } from 'vitest';
import { oneCell } from '../../src-renderer/grid/cell-clipboard.ts';
import { blockEdge, gridAct, stepRow } from '../../src-renderer/grid/schedule-keys.ts';

const press = (
  key: string,
  more: Partial<{ ctrl: boolean; shift: boolean; alt: boolean }> = {},
) => ({
  key,
  ctrl: false,
  shift: false,
  alt: false,
  ...more,
});

describe('keys of a cell', () => {
  test('Enter and Tab take the entry and move; with Shift the other way', () => {
    expect(gridAct(press('Enter'), true)).toEqual({ act: 'commit', rows: 1, columns: 0 });
    expect(gridAct(press('Enter', { shift: true }), true)).toEqual({
      act: 'commit',
      rows: -1,
      columns: 0,
    });
    expect(gridAct(press('Tab'), true)).toEqual({ act: 'commit', rows: 0, columns: 1 });
    expect(gridAct(press('Enter'), false)).toEqual({ act: 'move', rows: 1, columns: 0 });
  });

  test('an open editor keeps its own keys', () => {
    for (const key of ['Home', 'End', 'Delete', 'Backspace', 'ArrowLeft', 'Escape', 'a']) {
      expect(gridAct(press(key), true)).toBe(null);
    }
  });

  test('typing, arrows, F2 and Esc stay the grid’s', () => {
    for (const key of ['a', '5', 'ArrowDown', 'F2', 'Escape', ' ']) {
      expect(gridAct(press(key), false)).toBe(null);
    }
  });

  test('the row’s keys', () => {
    expect(gridAct(press('Delete'), false)).toEqual({ act: 'clear' });
    expect(gridAct(press('Delete', { ctrl: true }), false)).toEqual({ act: 'remove' });
    expect(gridAct(press('Insert'), false)).toEqual({ act: 'insert' });
    expect(gridAct(press('L', { ctrl: true }), false)).toEqual({ act: 'lock' });
    expect(gridAct(press('F10', { shift: true }), false)).toEqual({ act: 'menu' });
  });
});

describe('moving over head rows', () => {
  // Heads at 0 and 4: two runs of three.
  const isFixture = (index: number) => index >= 0 && index < 8 && index !== 0 && index !== 4;
  test('a step skips a head and never leaves the grid', () => {
    expect(stepRow(isFixture, 8, 3, 1)).toBe(5);
    expect(stepRow(isFixture, 8, 5, -1)).toBe(3);
    expect(stepRow(isFixture, 8, 7, 1)).toBe(7);
    expect(stepRow(isFixture, 8, 1, -1)).toBe(1);
  });
  test('the edge of the run, then that of the next', () => {
    expect(blockEdge(isFixture, 8, 1, true)).toBe(3);
    expect(blockEdge(isFixture, 8, 3, true)).toBe(7);
    expect(blockEdge(isFixture, 8, 6, false)).toBe(5);
    expect(blockEdge(isFixture, 8, 5, false)).toBe(1);
  });
});

test('one cell of a clipboard is one cell, several are told apart', () => {
  expect(oneCell('12 ft\r\n')).toBe('12 ft');
  expect(oneCell('12\t13')).toBe(null);
  expect(oneCell('12\n13')).toBe(null);
});
