/** Ditto marks and merged areas. Rules: the check command's contract; cases invented. */
import { describe, expect, it } from 'vitest';
import { readingAt, readingsOf, readRowsOf } from './build-workbook.ts';

const header = ['Tag', 'Type', 'Area', 'Run', 'Span m'];
const area = (
  firstRow: number,
  lastRow: number,
  firstColumn: number,
  lastColumn = firstColumn,
) => ({
  firstRow,
  lastRow,
  firstColumn,
  lastColumn,
});

describe('ditto marks', () => {
  it.each(['"', '〃', 'ditto', 'Ditto', 'do.', '″'])('%s means as above, told', (mark) => {
    const project = readRowsOf([
      header,
      ['A', 'T1', 'North', 'R', 2],
      ['B', mark, mark, mark, mark],
      ['C', mark, mark, mark, mark],
    ]);
    expect(project.fixtures.map((f) => [f.type, f.area, f.run, f.spanM])).toEqual([
      ['T1', 'North', 'R', 2],
      ['T1', 'North', 'R', 2],
      ['T1', 'North', 'R', 2],
    ]);
    expect(readingAt(project, 'Schedule!B4')).toMatchObject({
      raw: mark,
      value: 'T1',
      confidence: 'likely',
    });
  });

  it('do not reach over a subtotal', () => {
    const project = readRowsOf([
      header,
      ['A', 'T1', 'North', 'R', 2],
      ['Subtotal'],
      ['B', '"', 'South', 'R', 2],
    ]);
    expect(project.fixtures[1]?.type).toBeNull();
    expect(readingAt(project, 'Schedule!B4')?.confidence).toBe('refused');
  });

  it('cannot repeat a tag', () => {
    const project = readRowsOf([
      header,
      ['A', 'T1', 'North', 'R', 2],
      ['"', 'T1', 'North', 'R', 2],
    ]);
    expect(project.fixtures.map((f) => f.tag)).toEqual(['A', null]);
    expect(readingAt(project, 'Schedule!A3')?.confidence).toBe('refused');
  });
});

describe('blank cells', () => {
  it('inside a merged area mean as above, told', () => {
    const project = readRowsOf(
      [
        header,
        ['A', 'T1', 'North', 'R', 2],
        ['B', 'T1', null, 'R', 2],
        ['C', 'T1', null, 'R', 2],
        ['D', 'T1', null, 'R', 2],
      ],
      { merges: [area(2, 4, 2)] },
    );
    expect(project.fixtures.map((f) => f.area)).toEqual(['North', 'North', 'North', null]);
    expect(readingsOf(project).filter((r) => r.column === 'area')).toMatchObject([
      { cell: 'Schedule!C3', raw: '', value: 'North', confidence: 'sure' },
      { cell: 'Schedule!C4', raw: '', value: 'North', confidence: 'sure' },
    ]);
  });

  it('elsewhere stay blank', () => {
    const project = readRowsOf([
      header,
      ['A', 'T1', 'North', 'R', 2],
      ['B', 'T1', null, 'R', null],
    ]);
    expect(project.fixtures[1]).toMatchObject({ area: null, spanM: null });
    expect(readingsOf(project).filter((r) => r.cell.endsWith('3'))).toEqual([]);
  });

  it('beside a merged value are not filled from the side', () => {
    const project = readRowsOf([header, ['A', 'T1', null, 'R', 2]], { merges: [area(2, 2, 1, 2)] });
    expect(project.fixtures[0]).toMatchObject({ type: 'T1', area: null });
  });
});
