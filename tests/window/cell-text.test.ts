import { describe, expect, test } from 'vitest';
import { room } from '../../src-renderer/grid/cell-room.ts';
import { headWords } from '../../src-renderer/grid/head-words.ts';
import { cellOrigin, cellText, editText } from '../../src-renderer/state/cell-text.ts';
import { demoJob, rowOf, rowsOf } from './demo-rows.ts';

// Numbers of the demo: tests/demo/demo.test.ts, computed independently of the app.
describe('what a cell shows', () => {
  const rows = rowsOf(demoJob());
  const a18 = rowOf(rows, 'A-18');

  test('solved columns, to the digits of the column table', () => {
    expect(cellText(a18, 'voltsHere', 'ft')).toBe('199.98');
    expect(cellText(a18, 'drop', 'ft')).toBe('3.86 %');
    expect(cellText(a18, 'cumulativeCurrent', 'ft')).toBe('8.186');
    expect(cellText(a18, 'cableSoFar', 'ft')).toBe('267 ft');
    expect(cellText(rowOf(rows, 'C-12'), 'voltsHere', 'ft')).toBe('335.00');
  });

  test('lengths follow the display unit; nothing stored does', () => {
    expect(cellText(a18, 'span', 'ft')).toBe('12 ft');
    expect(cellText(a18, 'span', 'm')).toBe('3.66 m');
    expect(editText(a18, 'span', 'm')).toBe('3.6576 m');
  });

  test('start and last address together; one slot alone', () => {
    expect(cellText(rowOf(rows, 'B-19'), 'address', 'ft')).toBe('91–99');
    expect(editText(rowOf(rows, 'B-19'), 'address', 'ft')).toBe('91');
  });

  test('unit loads as data sheets write them', () => {
    expect(cellText(rowOf(rows, 'D-01'), 'unitLoad', 'ft')).toBe('1/4');
    expect(cellText(rowOf(rows, 'B-01'), 'unitLoad', 'ft')).toBe('1/2');
  });

  test('the ink tells what is typed here, taken from the type, laid from stock, solved', () => {
    expect(cellOrigin(a18, 'span')).toBe('typed');
    expect(cellOrigin(a18, 'load')).toBe('from-type');
    expect(cellOrigin(a18, 'installed')).toBe('from-stock');
    expect(cellOrigin(a18, 'supply')).toBe('from-run');
    expect(cellOrigin(rowOf(rows, 'A-01'), 'supply')).toBe('typed');
    expect(cellOrigin(a18, 'drop')).toBe('solved');
    expect(cellOrigin(a18, 'address')).toBe('typed');
  });

  test('an address nobody gave is a proposal', () => {
    const job = demoJob();
    job.edit('A-05', 'address', null);
    const row = rowOf(rowsOf(job), 'A-05');
    expect(cellOrigin(row, 'address')).toBe('proposed');
    expect(cellText(row, 'address', 'ft')).toBe('21–25');
  });

  test('a run that cannot be solved shows no number', () => {
    const job = demoJob();
    for (const n of [1, 2, 3]) job.edit(`A-0${n}`, 'load', 60_000);
    const row = rowOf(rowsOf(job), 'A-02');
    expect(row.run?.solved).toBe(false);
    for (const column of ['voltsHere', 'drop', 'cumulativeCurrent', 'throughCurrent'] as const) {
      expect(cellText(row, column, 'ft')).toBe('');
    }
    expect(room(row, 'voltsHere')).toBe(null);
  });
});

describe('the head row of a run', () => {
  const rows = rowsOf(demoJob());
  const head = (run: string) => {
    const row = rows.find((r) => r.id === `head:${run}`);
    if (row?.kind !== 'head') throw new Error(run);
    return headWords(row, 'ft');
  };

  test('carries circuit, volts, fixtures, amps of rating, worst drop, installed of listed', () => {
    expect(head('A1')).toEqual({
      name: 'A1',
      circuit: 'LP-R 1,3',
      volts: '208 V',
      fixtures: '18 fixtures',
      amps: '8.19 of 10 A',
      ampsShare: expect.closeTo(0.81863, 4),
      drop: 'drop 3.86 %',
      length: '267 of 220 ft',
    });
    expect(head('C1').ampsShare).toBeGreaterThan(1);
  });

  test('says so when a run has no operating point', () => {
    const job = demoJob();
    for (const n of [1, 2, 3]) job.edit(`A-0${n}`, 'load', 60_000);
    const row = rowsOf(job)[0];
    expect(row?.kind === 'head' && headWords(row, 'ft').amps).toBe('no operating point');
    expect(row?.kind === 'head' && headWords(row, 'ft').drop).toBe('');
  });
});

describe('the room of a number', () => {
  const rows = rowsOf(demoJob());
  test('cumulative current fills toward the rating of the line, and says when it is over', () => {
    expect(room(rowOf(rows, 'A-18'), 'cumulativeCurrent')?.share).toBeCloseTo(0.8186, 3);
    expect(room(rowOf(rows, 'C-12'), 'cumulativeCurrent')?.share).toBeGreaterThan(1);
  });
  test('volts stand between the least of the type and the supply', () => {
    // RB1 works from 90 V: (199.981 − 90) / (208 − 90).
    expect(room(rowOf(rows, 'A-18'), 'voltsHere')?.share).toBeCloseTo(0.93204, 4);
  });
});
