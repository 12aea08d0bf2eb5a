/** Marked-up workbooks that come back: our columns right of theirs, our sheets behind. Rules: DEVELOPERS.md; cases invented. */
import { describe, expect, it } from 'vitest';
import { noAnswers } from '../../src-shared/document/import-answers.ts';
import { foreignNote } from '../../src-shared/exchange/schedule/own-notes.ts';
import {
  type CellInput,
  columnIds,
  readBook,
  readingAt,
  readingsOf,
  readRowsOf,
  sheetOf,
  workbookOf,
} from './build-workbook.ts';

describe('a row that stands for several fixtures', () => {
  const rows = [
    ['Tag', 'Type', 'Qty', 'Run', 'Drop', 'Locks', 'Runledger id'],
    [null, 'F3', 3, 'R', null, 'place', 'f4 f5 f9'],
    ['B-1', 'F3', 1, 'R', null, null, 'f2'],
  ];

  it('has their ids in one cell, in order', () => {
    expect(readRowsOf(rows).fixtures.map(({ id }) => id)).toEqual(['f4', 'f5', 'f9', 'f2']);
  });

  it('gets new ids for those it has none of', () => {
    const more = [rows[0] ?? [], [null, 'F3', 4, 'R', null, null, 'f4 f5'], rows[2] ?? []];
    const ids = readRowsOf(more).fixtures.map(({ id }) => id);
    expect(ids.slice(0, 2)).toEqual(['f4', 'f5']);
    expect(new Set(ids).size).toBe(5);
    expect(ids[4]).toBe('f2');
  });
});

describe('our columns', () => {
  it('are known under a two-row header without merged cells too', () => {
    const project = readRowsOf([
      ['', '', 'Electrical', '', 'Control', '', '', '', ''],
      ['Tag', 'Type', 'Load W', 'V', 'Univ', 'Start', 'Drop (%)', 'Findings', 'Runledger id'],
      ['A-1', 'T', 40, 230, 1, 1, 1.5, 'W', 'f7'],
    ]);
    expect(project.fixtures[0]?.id).toBe('f7');
    expect(Object.keys(columnIds(project))).not.toContain('Control / Runledger id');
    expect(project.fixtures[0]?.origin?.cells).toHaveLength(6);
  });
});

describe('the sheet with a row for every fixture', () => {
  const theirs = sheetOf(
    [
      ['Tag', 'Type', 'Qty', 'Run', 'Runledger id'],
      [null, 'F3', 2, 'R', 'f1 f2'],
    ],
    { name: 'Job' },
  );
  const ours = sheetOf(
    [
      ['Tag', 'Type', 'Run', 'Span m', 'Runledger id'],
      ['F3-1', 'F3', 'R', 2, 'f1'],
      ['F3-2', 'F3', 'R', 3, 'f2'],
    ],
    { name: 'Marked-up fixtures' },
  );
  const book = workbookOf(theirs, ours);

  it('is read, and told; the others are not', () => {
    const { project, candidates } = readBook(book);
    expect(project.source?.sheets.map(({ sheet }) => sheet)).toEqual(['Marked-up fixtures']);
    expect(project.fixtures.map((f) => [f.id, f.spanM])).toEqual([
      ['f1', 2],
      ['f2', 3],
    ]);
    expect(readingAt(project, "'Marked-up fixtures'!A1")?.note).toContain('row for every fixture');
    expect(candidates.map(({ sheet }) => sheet)).toContain('Job');
    expect(project.source?.questions).toEqual([]);
  });

  it('gives way to the sheet the engineer names', () => {
    const sheets = [{ file: 0, sheet: 'Job' }];
    const { project } = readBook(book, { answers: { ...noAnswers, sheets } });
    expect(project.source?.sheets.map(({ sheet }) => sheet)).toEqual(['Job']);
    expect(readBook(book, { sheet: 'Job' }).project.fixtures).toHaveLength(2);
  });

  it('of that name without our ids is a sheet like another', () => {
    const named = sheetOf(
      [
        ['Tag', 'Type'],
        ['A-1', 'T'],
      ],
      { name: 'Marked-up fixtures' },
    );
    const job = sheetOf(
      [
        ['Tag', 'Type', 'Run'],
        ['B-1', 'T', 'R'],
      ],
      { name: 'Job' },
    );
    expect(readBook(workbookOf(named, job)).project.source?.sheets[0]?.sheet).toBe('Job');
  });
});

describe('our sheets of results', () => {
  const result = sheetOf(
    [
      ['Tag', 'Universe', 'First'],
      ['A-1', 1, 1],
    ],
    { name: 'Patch' },
  );
  const read = (head: readonly CellInput[], row: readonly CellInput[]) =>
    readBook(workbookOf(sheetOf([head, row], { name: 'Job' }), result));

  it('are no schedules in a file that came out of our export', () => {
    const { project, candidates } = read(['Tag', 'Runledger id'], ['A-1', 'f1']);
    expect(candidates.map(({ sheet }) => sheet)).toEqual(['Job']);
    expect(readingsOf(project)).toEqual([]);
  });

  it('are told in one that did not', () => {
    const { project } = read(['Tag', 'Type', 'Run'], ['A-1', 'T', 'R']);
    expect(readingAt(project, 'Patch!A1')?.note).toContain('looks like a schedule too');
  });
});

describe('supporting sheets of ours', () => {
  const schedule = (id: CellInput) =>
    sheetOf([
      ['Tag', 'Type', 'Run', ...(id === null ? [] : ['Runledger id'])],
      ['A-1', 'T', 'R', ...(id === null ? [] : [id])],
    ]);
  const types = (name: string, watts: number) =>
    sheetOf(
      [
        ['Type', 'W max'],
        ['T', watts],
      ],
      { name },
    );

  it('win over the engineer’s, told, in a file that came out of our export', () => {
    const book = workbookOf(schedule('f1'), types('Types', 40), types('Types, Runledger', 45));
    const { project } = readBook(book);
    expect(project.types).toMatchObject([{ name: 'T', loadW: 45 }]);
    expect(readingAt(project, "'Types, Runledger'!A1")?.note).toContain('"Types" not');
    const legend = workbookOf(schedule('f1'), types('Legend', 40), types('Types', 45));
    expect(readBook(legend).project.types[0]?.loadW).toBe(45);
  });

  it('are sheets like others in a file that did not', () => {
    const { project } = readBook(
      workbookOf(schedule(null), types('Legend', 40), types('Types', 45)),
    );
    expect(project.types[0]?.loadW).toBe(40);
    expect(
      readingsOf(project).some(({ note }) => note.includes('stands in the legend twice')),
    ).toBe(true);
  });
});

describe('our notes', () => {
  const ours = 'W watch: Branch drop\n3.1 % at B-19, limit 3 %.\nBasis: practice';

  it.each([
    [ours, ''],
    [`ask the maker\n\n${ours}`, 'ask the maker'],
    ['? not checked: Leakage\nneeds leakage', ''],
    ['Not as in the source file, which had: 4', ''],
    ['A row that is not in the source file', ''],
    ['Struck through in the source: 5ch', ''],
    ['now 9-ch mode', 'now 9-ch mode'],
  ])('%j leaves %j', (note, left) => expect(foreignNote(note, true)).toBe(left));

  it('are anybody’s in a file that did not come out of our export', () => {
    expect(foreignNote(ours, false)).toContain('Branch drop');
  });

  it('are not listed', () => {
    const project = readRowsOf([
      ['Tag', 'Type', 'Runledger id'],
      ['A-1', { text: 'T', value: 'T', note: ours }, 'f1'],
    ]);
    expect(readingsOf(project)).toEqual([]);
  });
});
