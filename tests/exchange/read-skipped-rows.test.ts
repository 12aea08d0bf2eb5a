/** Rows read and rows skipped. Rules: the check command's contract; cases invented. */
import { describe, expect, it } from 'vitest';
import { readSchedule } from '../../src-shared/exchange/read-schedule.ts';
import { type CellInput, readingAt, readRowsOf, sheetOf, workbookOf } from './build-workbook.ts';

const header = ['Tag', 'Type', 'Run', 'Place', 'Load W'];
const good = (tag: string, place: number): CellInput[] => [tag, 'T', 'R', place, 10];
const struck = (text: string): CellInput => ({ text, value: text, struck: true });

function reasonOf(row: CellInput[]): string | null {
  const project = readRowsOf([header, good('A', 1), row, good('B', 2)]);
  return project.source?.sheets[0]?.rowsSkipped.find((r) => r.row === 3)?.reason ?? null;
}

describe('a row is skipped as', () => {
  it.each([
    [['Subtotal', null, null, null, 100], 'subtotal'],
    [['Sub-total north', null, null, null, 100], 'subtotal'],
    [['TOTAL', null, null, null, 100], 'subtotal'],
    [[null, 'Total:', '14 pcs', null, 100], 'subtotal'],
    [
      [null, null, null, null, { text: '20', value: 20, kind: 'number', formula: 'SUM(E2:E3)' }],
      'subtotal',
    ],
    [[null, null, null, null, 20], 'subtotal'],
    [header, 'repeated header'],
    [['Note: head boxes by others'], 'note'],
    [['NB. see drawing 12'], 'note'],
    [['Bay piers'], 'note'],
    [['Level 41'], 'note'],
    [['1. All lengths as drawn'], 'note'],
    [['L4 to be confirmed'], 'note'],
    [['End of schedule'], 'note'],
    [['All lengths along the stone, slack not included, to be checked'], 'note'],
    [[null, null, null, null, null, 'a remark far to the right'], 'note'],
    [['  '], 'blank'],
    [[struck('Z'), struck('T'), struck('R'), 5], 'struck through'],
  ] as const)('%j: %s', (row, reason) => {
    expect(reasonOf([...row])).toBe(reason);
  });

  it.each([
    [['A-03']],
    [['Totem-1', 'T', 'R', 3, 10]],
    [['Notes', 'T', 'R', 3, 10]],
    [['North 4', 'T', 'R', 3, 10]],
  ] as const)('a fixture all the same: %j', (row) => {
    expect(reasonOf([...row])).toBeNull();
  });

  it('hidden, unless asked for', () => {
    const rows = [header, good('A', 1), good('B', 2)];
    const skipped = readRowsOf(rows, { hiddenRows: [3] });
    expect(skipped.source?.sheets[0]?.rowsSkipped).toEqual([{ row: 3, reason: 'hidden' }]);
    expect(skipped.fixtures.map((f) => f.tag)).toEqual(['A']);
    const read = readRowsOf(rows, { hiddenRows: [3] }, { hidden: 'read' });
    expect(read.source?.sheets[0]?.rowsSkipped).toEqual([]);
    expect(read.fixtures.map((f) => f.tag)).toEqual(['A', 'B']);
  });

  it('quantity 0', () => {
    const project = readRowsOf([
      ['Tag', 'Type', 'Qty'],
      ['A', 'T', 0],
      ['B', 'T', 1],
    ]);
    expect(project.source?.sheets[0]?.rowsSkipped).toEqual([{ row: 2, reason: 'quantity 0' }]);
  });
});

describe('rows that are read', () => {
  it('need no tag when they say what they are', () => {
    const project = readRowsOf([header, [null, 'T', 'R', 1, 10]]);
    expect(project.fixtures.map((f) => [f.tag, f.type])).toEqual([[null, 'T']]);
  });

  it('need neither tag nor type where they have a run and a start address', () => {
    const titles = ['Tag', 'Run', 'Load W', 'Start'];
    const project = readRowsOf([titles, ['A', 'R', 10, 1], [null, 'R', 10, 5]]);
    expect(project.fixtures.map((f) => [f.tag, f.address])).toEqual([
      ['A', 1],
      [null, 5],
    ]);
    // The sum of a run has none.
    const summed = readRowsOf([titles, ['A', 'R', 10, 1], [null, 'R', 10, null]]);
    expect(summed.fixtures).toHaveLength(1);
  });

  it('lose a value that is struck through, told', () => {
    const project = readRowsOf([header, ['A', 'T', 'R', 1, struck('87')]]);
    expect(project.fixtures[0]?.loadW).toBeNull();
    expect(readingAt(project, 'Schedule!E2')).toMatchObject({ raw: '87', confidence: 'guess' });
  });

  it('carry all their stored values', () => {
    const project = readRowsOf([
      ['Tag', 'Own column', 'Run'],
      ['007', { text: '1.50', value: 1.5, kind: 'number' }, 'R'],
      ['A', true, { text: '', value: null, formula: 'A1' }],
    ]);
    expect(project.fixtures.map((f) => f.origin)).toEqual([
      { file: 0, sheet: 'Schedule', row: 2, cells: ['007', 1.5, 'R'] },
      { file: 0, sheet: 'Schedule', row: 3, cells: ['A', true, null] },
    ]);
  });

  it('show comments that hold more than the cell', () => {
    const project = readRowsOf([
      header,
      ['A', { text: 'T', value: 'T', note: 'now 9-ch mode' }, 'R', 1, 10],
    ]);
    expect(readingAt(project, 'Schedule!B2')).toMatchObject({ value: 'T', confidence: 'likely' });
    expect(readingAt(project, 'Schedule!B2')?.note).toContain('now 9-ch mode');
  });
});

describe('a file without schedule is refused', () => {
  it.each([
    [
      'no tag header',
      [
        ['Colour', 'Weight'],
        ['red', 3],
      ],
    ],
    ['no row of fixtures', [header, ['Note: to follow']]],
    ['nothing below', [header]],
    ['nothing at all', []],
  ] as const)('%s', (_, rows) => {
    const result = readSchedule(workbookOf(sheetOf(rows)), {});
    expect(result).toMatchObject({ ok: false, refusal: { code: 'no-schedule' } });
  });

  it('with no sheet at all', () => {
    expect(readSchedule(workbookOf(), {})).toMatchObject({
      ok: false,
      refusal: { code: 'no-schedule' },
    });
  });
});
