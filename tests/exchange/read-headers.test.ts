/** Headers and the choice of sheet. Rules: the check command's contract; cases invented. */
import { describe, expect, it } from 'vitest';
import {
  columnIds,
  readBook,
  readingAt,
  readRowsOf,
  sheetOf,
  workbookOf,
} from './build-workbook.ts';

const area = (firstRow: number, lastRow: number, firstColumn: number, lastColumn: number) => ({
  firstRow,
  lastRow,
  firstColumn,
  lastColumn,
});

describe('two-row headers', () => {
  // A gatehouse schedule: title block, `Electrical` and `Control` merged over their columns.
  const rows = [
    ['GATEHOUSE'],
    ['Rev C'],
    ['Tag', 'Type', 'Electrical', null, null, 'Control', null, null],
    [null, null, 'Load W', 'V', 'Ph', 'Univ', 'Start', 'Ch'],
    ['G1', 'F1', '2,40', 230, 1, 1, 1, 4],
    ['G2', 'F1', '2,50', 230, 1, 1, 5, 4],
  ];
  const merges = [
    area(1, 1, 0, 7),
    area(3, 4, 0, 0),
    area(3, 4, 1, 1),
    area(3, 3, 2, 4),
    area(3, 3, 5, 7),
  ];

  it('join as Upper / Lower by their merges', () => {
    const project = readRowsOf(rows, { merges });
    expect(columnIds(project)).toEqual({
      Tag: 'tag',
      Type: 'type',
      'Electrical / Load W': 'load',
      'Electrical / V': 'supply',
      'Electrical / Ph': null,
      'Control / Univ': 'universe',
      'Control / Start': 'address',
      'Control / Ch': 'footprint',
    });
    expect(project.source?.sheets[0]?.headerRow).toBe(4);
    expect(project.fixtures.map((f) => [f.tag, f.loadW, f.footprint])).toEqual([
      ['G1', 2.4, 4],
      ['G2', 2.5, 4],
    ]);
  });

  it('join without merges too, as a csv has them', () => {
    const project = readRowsOf(rows.slice(2));
    expect(columnIds(project)).toMatchObject({
      'Electrical / Load W': 'load',
      'Control / Ch': 'footprint',
    });
    expect(project.fixtures).toHaveLength(2);
  });

  it('are found from either row number', () => {
    for (const headerRow of [3, 4]) {
      const project = readRowsOf(rows, { merges }, { headerRow });
      expect(project.source?.sheets[0]?.headerRow).toBe(4);
      expect(project.fixtures).toHaveLength(2);
    }
  });

  it('take units from the lower row', () => {
    const project = readRowsOf([
      ['Tag', 'Run', 'Place', 'Span', 'Home run'],
      [null, null, null, 'ft', 'm'],
      ['A', 'R', 1, 10, 3],
    ]);
    expect(project.fixtures[0]?.spanM).toBe(3.048);
    expect(project.runs[0]?.homeRunM).toBe(3);
    expect(project.source?.readings).toEqual([]);
  });

  const grouped = [
    [null, null, 'Electrical', null, 'Control', null],
    ['Tag', 'Type', 'Load W', 'V', 'Univ', 'Start'],
    ['G1', 'F1', '2,40', 230, 1, 1],
  ];
  const groupedIds = {
    Tag: 'tag',
    Type: 'type',
    'Electrical / Load W': 'load',
    'Electrical / V': 'supply',
    'Control / Univ': 'universe',
    'Control / Start': 'address',
  };

  it('take units from a lower row that has a dash where there is none', () => {
    const project = readRowsOf([
      ['Tag', 'Run', 'Load', 'PF', 'Supply', 'Span'],
      [null, null, 'kW', '-', 'V', 'm'],
      ['A', 'R', 0.02, 0.9, 240, 2],
    ]);
    expect(project.fixtures).toMatchObject([{ loadW: 20, powerFactor: 0.9, spanM: 2 }]);
    expect(project.source?.sheets[0]?.rowsSkipped).toEqual([]);
  });

  it('join where labels without merges stand over a whole header', () => {
    const project = readRowsOf([['GATEHOUSE'], ...grouped]);
    expect(columnIds(project)).toEqual(groupedIds);
    expect(project.source?.sheets[0]?.headerRow).toBe(3);
    expect(project.source?.sheets[0]?.rowsRead).toBe(1);
  });

  it('join where every column has a label of its own', () => {
    const project = readRowsOf([
      ['Fixture', 'Fixture', 'Power', 'Power', 'Control', 'Control'],
      ['Tag', 'Type', 'Load W', 'V', 'Univ', 'Start'],
      ['G1', 'F1', '2,40', 230, 1, 1],
    ]);
    expect(columnIds(project)).toEqual({
      'Fixture / Tag': 'tag',
      'Fixture / Type': 'type',
      'Power / Load W': 'load',
      'Power / V': 'supply',
      'Control / Univ': 'universe',
      'Control / Start': 'address',
    });
  });

  it('end a label where the filled cells below it end', () => {
    const project = readRowsOf([
      [null, 'Electrical', null, null, null],
      ['Tag', 'Load W', 'V', null, 'Remarks'],
      ['G1', 40, 230, null, 'x'],
    ]);
    expect(columnIds(project)).toEqual({
      Tag: 'tag',
      'Electrical / Load W': 'load',
      'Electrical / V': 'supply',
      Remarks: 'remarks',
    });
  });

  it.each([
    ['a title in the first column', ['Project X']],
    ['a title and more', ['Project X', null, null, 'Rev B']],
    ['a remark with its key', [null, 'Issued: May', null, null]],
    ['numbers of the columns', ['1', '2', '3', '4']],
    ['a label beside the table', [null, null, null, null, 'Draft']],
  ])('are not made of %s', (_, above) => {
    const project = readRowsOf([above, ['Tag', 'Type', 'Run', 'Load W'], ['A', 'T', 'R', 1]]);
    expect(columnIds(project)).toEqual({
      Tag: 'tag',
      Type: 'type',
      Run: 'run',
      'Load W': 'load',
    });
  });

  it('are read from one row that says Upper / Lower', () => {
    const header = ['Tag', 'Type', ...Object.keys(groupedIds).slice(2), 'Control / Ch'];
    const project = readRowsOf([header, ['G1', 'F1', '2,40', 230, 1, 1, 4], header]);
    expect(columnIds(project)).toEqual({ ...groupedIds, 'Control / Ch': 'footprint' });
    expect(project.fixtures).toMatchObject([{ loadW: 2.4, universe: 1, address: 1, footprint: 4 }]);
    expect(project.source?.sheets[0]?.rowsSkipped).toEqual([{ row: 3, reason: 'repeated header' }]);
  });

  it('give way to a header that says the same alone', () => {
    const project = readRowsOf([
      ['Tag', 'Fed from / Run', 'Run'],
      ['A', 'x', 'R'],
    ]);
    expect(project.fixtures[0]?.run).toBe('R');
  });

  it('are not made of a title merged over the header', () => {
    const project = readRowsOf(
      [['FIXTURE SCHEDULE'], ['Tag', 'Type', 'Run', 'Place'], ['A', 'T', 'R', 1]],
      { merges: [area(1, 1, 0, 3)] },
    );
    expect(columnIds(project)).toEqual({ Tag: 'tag', Type: 'type', Run: 'run', Place: 'place' });
  });
});

describe('one-row headers', () => {
  it('may state their unit in many ways', () => {
    const project = readRowsOf([
      [
        'Tag',
        'Run',
        'Place',
        'Span [m]',
        'Load (W)',
        'Breaker A',
        'Supply V',
        'Lead-in ft',
        'Home run, m',
      ],
      ['A', 'R', 1, 2, 87, 20, 277, 10, 12.2],
    ]);
    expect(project.source?.columns.map((c) => c.unit)).toEqual([
      null, null, null, 'm', 'W', 'A', 'V', 'ft', 'm',
    ]); // biome-ignore format: a list
    expect(project.fixtures[0]).toMatchObject({ spanM: 2, loadW: 87 });
    expect(project.runs[0]).toMatchObject({ supplyV: 277, leadInM: 3.048, homeRunM: 12.2 });
    expect(project.source?.readings).toEqual([]);
  });

  it('get their column letter when the text stands twice', () => {
    const project = readRowsOf([
      ['Tag', 'Span', 'Notes', 'Span'],
      ['A', '2 m', 'x', '3 m'],
    ]);
    expect(columnIds(project)).toEqual({
      Tag: 'tag',
      Span: 'span',
      Notes: 'remarks',
      'Span (D)': null,
    });
    expect(project.fixtures[0]?.spanM).toBe(2);
    expect(readingAt(project, 'Schedule!D1')?.note).toContain('also looks like span');
  });

  it('keep a column without header that has values', () => {
    const project = readRowsOf([
      ['Tag', 'Type'],
      ['A', 'T', 'loose word'],
    ]);
    expect(columnIds(project)).toEqual({ Tag: 'tag', Type: 'type', 'Column C': null });
    expect(project.fixtures[0]?.origin?.cells).toEqual(['A', 'T', 'loose word']);
  });

  it('prefer the plainest of rival words', () => {
    const project = readRowsOf([
      ['Item', 'Fixture tag', 'Type'],
      [1, 'A', 'T'],
    ]);
    expect(columnIds(project)).toEqual({ Item: null, 'Fixture tag': 'tag', Type: 'type' });
  });

  it('may say DMX before what they hold', () => {
    const project = readRowsOf([
      ['Tag', 'DMX Univ', 'DMX Addr', 'DMX Mode', 'DMX Footprint'],
      ['A', 2, 101, '9ch', 9],
    ]);
    expect(project.fixtures[0]).toMatchObject({
      universe: 2,
      address: 101,
      mode: '9ch',
      footprint: 9,
    });
  });

  it('named like object parts are plain text', () => {
    const project = readRowsOf([
      ['Tag', '__proto__', 'constructor', 'Run'],
      ['__proto__', 'x', 'y', 'constructor'],
      ['toString', 'x', 'y', '__proto__'],
    ]);
    expect(project.source?.columns.map((c) => [c.header, c.columnId])).toEqual([
      ['Tag', 'tag'],
      ['__proto__', null],
      ['constructor', null],
      ['Run', 'run'],
    ]);
    expect(project.runs.map((r) => r.name)).toEqual(['constructor', '__proto__']);
    expect(project.fixtures.map((f) => f.tag)).toEqual(['__proto__', 'toString']);
  });
});

describe('footprint or start address', () => {
  const types = ['A', 'A', 'B', 'B'];
  const rows = (header: string, values: readonly number[]) => [
    ['Tag', 'Type', header],
    ...values.map((value, i) => [`F${i}`, types[i] ?? 'A', value]),
  ];

  it.each(['Ch', 'Channels', 'DMX ch'])('%s is a footprint, told', (header) => {
    const project = readRowsOf(rows(header, [4, 4, 9, 9]));
    expect(project.fixtures.map((f) => f.footprint)).toEqual([4, 4, 9, 9]);
    expect(readingAt(project, 'Schedule!C1')).toMatchObject({
      column: 'footprint',
      confidence: 'likely',
    });
  });

  it.each(['Start', 'Addr', 'DMX start'])('%s is a start address', (header) => {
    const project = readRowsOf(rows(header, [1, 5, 9, 18]));
    expect(project.fixtures.map((f) => f.address)).toEqual([1, 5, 9, 18]);
  });

  it.each(['DMX', 'Channel', 'DMX channel'])('%s is decided by its values, told', (header) => {
    const footprint = readRowsOf(rows(header, [4, 4, 9, 9]));
    expect(footprint.fixtures.map((f) => f.footprint)).toEqual([4, 4, 9, 9]);
    expect(readingAt(footprint, 'Schedule!C1')).toMatchObject({
      column: 'footprint',
      confidence: 'guess',
    });
    const address = readRowsOf(rows(header, [1, 5, 9, 18]));
    expect(address.fixtures.map((f) => f.address)).toEqual([1, 5, 9, 18]);
    expect(readingAt(address, 'Schedule!C1')).toMatchObject({
      column: 'address',
      confidence: 'guess',
    });
  });
});

describe('the schedule sheet', () => {
  const schedule = [
    ['Tag', 'Type', 'Run', 'Place'],
    ['A', 'T', 'R', 1],
  ];

  it('is the one whose header names most columns, wherever it stands', () => {
    const cover = sheetOf([['Job 12'], ['Tag list follows']], { name: 'Cover' });
    const { project } = readBook(workbookOf(cover, sheetOf(schedule, { name: 'Fixtures' })));
    expect(project.source?.sheets[0]?.sheet).toBe('Fixtures');
  });

  it('is not a supporting or hidden sheet while another one serves', () => {
    const patch = sheetOf(
      [
        ['Tag', 'Type', 'Run', 'Place', 'Universe'],
        ['X', 'T', 'R', 1, 1],
      ],
      { name: 'Patch' },
    );
    const old = sheetOf(
      [
        ['Tag', 'Type', 'Run', 'Place', 'Span ft'],
        ['X', 'T', 'R', 1, 2],
      ],
      {
        name: 'Old',
        hidden: true,
      },
    );
    const { project } = readBook(workbookOf(patch, old, sheetOf(schedule, { name: 'Rev C' })));
    expect(project.source?.sheets[0]?.sheet).toBe('Rev C');
  });

  it('is told when another sheet looks like one too', () => {
    // The same tags on both: another revision, not another floor.
    const second = sheetOf(schedule, { name: 'Issue 2' });
    const { project, candidates } = readBook(
      workbookOf(sheetOf(schedule, { name: 'Issue 1' }), second),
    );
    expect(candidates.map((c) => c.sheet)).toEqual(['Issue 1', 'Issue 2']);
    expect(readingAt(project, "'Issue 2'!A1")?.note).toContain('was not read');
  });
});
