/** Several sheets as one schedule. Rules: the check command's contract and `trade.md` §2; cases invented. */
import { describe, expect, it } from 'vitest';
import { noAnswers } from '../../src-shared/document/import-answers.ts';
import type { SourceWorkbook } from '../../src-shared/document/source-workbook.ts';
import { type CellInput, readBook, readingAt, sheetOf, workbookOf } from './build-workbook.ts';

const header = ['Tag', 'Type', 'Run', 'Place', 'Span m', 'Load W'];
const row = (tag: string, place: number, run = 'R1'): CellInput[] => [tag, 'T', run, place, 2, 40];
const floor = (name: string, first: number, more: { hidden?: boolean; run?: string } = {}) =>
  sheetOf([header, ...[0, 1, 2].map((n) => row(`${name}-${n}`, first + n, more.run))], {
    name,
    ...more,
  });

function sheetsRead(book: SourceWorkbook): string[] {
  return readBook(book).project.source?.sheets.map(({ sheet }) => sheet) ?? [];
}

describe('sheets with the same columns', () => {
  const book = workbookOf(floor('L41', 1), floor('L42', 4));
  const { project } = readBook(book);

  it('are one schedule in the order of the sheets, told and asked', () => {
    expect(sheetsRead(book)).toEqual(['L41', 'L42']);
    expect(project.fixtures.map(({ tag }) => tag)).toEqual([
      'L41-0', 'L41-1', 'L41-2', 'L42-0', 'L42-1', 'L42-2',
    ]); // biome-ignore format: a list
    expect(readingAt(project, 'L42!A1')?.note).toContain('one schedule');
    expect(project.source?.questions).toMatchObject([{ id: 'sheets', chosen: 'all', file: 0 }]);
  });

  it('a copied sheet, named as the program names a copy, is not joined but told', () => {
    const copied = workbookOf(floor('L41', 1), floor('L42', 4), floor('L42 (2)', 7));
    expect(sheetsRead(copied)).toEqual(['L41', 'L42']);
    expect(readingAt(readBook(copied).project, "'L42 (2)'!A1")?.note).toContain('was not read');
    // Without the sheet it would be a copy of, it is a floor like the others.
    expect(sheetsRead(workbookOf(floor('L41', 1), floor('L42 (2)', 4)))).toHaveLength(2);
  });

  it('are one schedule though ditto marks or struck-through tags stand on each', () => {
    const struck = (text: string): CellInput => ({ text, value: text, struck: true });
    const with2 = (name: string, first: number) =>
      sheetOf(
        [
          header,
          ...[0, 1].map((n) => row(`${name}-${n}`, first + n)),
          [struck('S-1'), struck('T'), struck('R1'), struck('9')],
          row('"', first + 2),
        ],
        { name },
      );
    expect(sheetsRead(workbookOf(with2('L41', 1), with2('L42', 4)))).toEqual(['L41', 'L42']);
  });

  it('continue one run: a value of the run on the first sheet holds on the next', () => {
    expect(project.runs.map(({ name }) => name)).toEqual(['R1']);
    expect(project.fixtures.map(({ place }) => place)).toEqual([1, 2, 3, 4, 5, 6]);
  });

  it('count places on where none are written', () => {
    const noPlaces = (name: string) =>
      sheetOf(
        [
          ['Tag', 'Type', 'Run'],
          [`${name}-0`, 'T', 'R1'],
          [`${name}-1`, 'T', 'R1'],
        ],
        {
          name,
        },
      );
    const read = readBook(workbookOf(noPlaces('L41'), noPlaces('L42')));
    expect(read.project.fixtures.map(({ place }) => place)).toEqual([1, 2, 3, 4]);
  });

  it('have one column for one header, wherever it stands', () => {
    const other = sheetOf(
      [
        ['Run', 'Tag', 'Crate', 'Type'],
        ['R1', 'L42-0', 7, 'T'],
      ],
      {
        name: 'L42',
      },
    );
    const first = sheetOf(
      [
        ['Tag', 'Type', 'Run'],
        ['L41-0', 'T', 'R1'],
      ],
      { name: 'L41' },
    );
    const { source, fixtures } = readBook(workbookOf(first, other)).project;
    expect(source?.columns.map((c) => c.header)).toEqual(['Tag', 'Type', 'Run', 'Crate']);
    expect(source?.sheets.map((s) => s.columnAt)).toEqual([
      [0, 1, 2, null],
      [1, 3, 0, 2],
    ]);
    expect(fixtures[1]?.origin).toEqual({
      file: 0,
      sheet: 'L42',
      row: 2,
      cells: ['L42-0', 'T', 'R1', 7],
    });
  });

  it('have two columns for a header that was read otherwise; each can be answered for', () => {
    const first = sheetOf(
      [
        ['Tag', 'Type', 'Run', 'Span m'],
        ['A-1', 'T', 'R1', 2],
      ],
      { name: 'S1' },
    );
    const second = sheetOf(
      [
        ['Tag', 'Type', 'Run', 'Spacing m', 'Span m'],
        ['B-1', 'T', 'R1', 3, 4],
      ],
      { name: 'S2' },
    );
    const read = (answers = noAnswers) => readBook(workbookOf(first, second), { answers }).project;
    const columns = [
      { header: 'Span m', columnId: 'span' },
      { header: 'Spacing m', columnId: null },
    ];
    expect(read().source?.columns.map(({ header, columnId }) => [header, columnId])).toEqual([
      ['Tag', 'tag'],
      ['Type', 'type'],
      ['Run', 'run'],
      ['Span m', 'span'],
      ['Spacing m', null],
    ]);
    const spacing = [{ header: 'Spacing m', columnId: 'span' }];
    const other = read({ ...noAnswers, columns: spacing });
    expect(other.fixtures.map(({ spanM }) => spanM)).toEqual([2, 3]);
    expect(other.source?.columns.map(({ header }) => header)).toContain('Span m (S2)');
    const back = [...spacing, { header: 'Span m (S2)', columnId: 'span' }];
    const again = read({ ...noAnswers, columns: back });
    expect(again.fixtures.map(({ spanM }) => spanM)).toEqual([2, 4]);
    expect(read({ ...noAnswers, columns }).fixtures.map(({ spanM }) => spanM)).toEqual([2, 4]);
  });

  it('give their name as the area where no column does, told', () => {
    expect(project.fixtures.map(({ area }) => area)).toEqual([
      ...Array(3).fill('L41'),
      ...Array(3).fill('L42'),
    ]);
    expect(project.source?.readings.filter(({ column }) => column === 'area')).toHaveLength(2);
  });

  it('give their name as the run where it names one', () => {
    const run = (name: string, tag: string) =>
      sheetOf(
        [
          ['Tag', 'Type'],
          [tag, 'T'],
        ],
        { name },
      );
    const read = readBook(workbookOf(run('Run A', 'A-1'), run('Run B', 'B-1'))).project;
    expect(read.fixtures.map((f) => [f.run, f.area])).toEqual([
      ['Run A', null],
      ['Run B', null],
    ]);
  });

  it('but not on a sheet that stands alone', () => {
    const alone = readBook(workbookOf(floor('L41', 1))).project;
    expect(alone.fixtures[0]?.area).toBeNull();
    expect(alone.source?.questions).toEqual([]);
  });
});

describe('sheets that are not joined', () => {
  it('hold the same tags: another revision', () => {
    const again = sheetOf([header, row('L41-0', 1), row('L41-1', 2)], { name: 'Second' });
    expect(sheetsRead(workbookOf(floor('L41', 1), again))).toEqual(['L41']);
  });

  it.each(['Old L42', 'L42 superseded', 'Rev B'])('are named %s', (name) => {
    expect(sheetsRead(workbookOf(floor('L41', 1), floor(name, 4)))).toEqual(['L41']);
  });

  it('are of the same revision by name and differ by floor: these are', () => {
    const book = workbookOf(floor('Rev C L41', 1), floor('Rev C L42', 4));
    expect(sheetsRead(book)).toHaveLength(2);
  });

  it('are hidden, supporting or of other columns', () => {
    const book = workbookOf(
      floor('L41', 1),
      floor('L42', 4, { hidden: true }),
      sheetOf(
        [
          ['Type', 'W max'],
          ['T', 40],
        ],
        { name: 'Legend' },
      ),
      sheetOf(
        [
          ['Tag', 'Delivered', 'Crate'],
          ['Z-1', 'yes', 4],
        ],
        { name: 'Crates' },
      ),
    );
    expect(sheetsRead(book)).toEqual(['L41']);
  });
});

describe('the answer about sheets', () => {
  const book = workbookOf(floor('L41', 1), floor('L42', 4));

  it('one: the best alone', () => {
    const questions = [{ id: 'sheets' as const, file: 0, value: 'one' }];
    const { project } = readBook(book, { answers: { ...noAnswers, questions } });
    expect(project.source?.sheets).toHaveLength(1);
    expect(project.source?.questions).toMatchObject([{ chosen: 'one', answered: true }]);
    expect(readingAt(project, 'L42!A1')?.note).toContain('was not read');
  });

  it('names them in an order of its own', () => {
    const sheets = [
      { file: 0, sheet: 'L42' },
      { file: 0, sheet: 'L41' },
    ];
    const { project } = readBook(book, { answers: { ...noAnswers, sheets } });
    expect(project.source?.sheets.map(({ sheet }) => sheet)).toEqual(['L42', 'L41']);
  });

  it('names one that is gone: told, and read as found', () => {
    const sheets = [{ file: 0, sheet: 'L40' }];
    const { project } = readBook(book, { answers: { ...noAnswers, sheets } });
    expect(project.source?.sheets).toHaveLength(2);
    expect(project.source?.readings.some(({ note }) => note.includes('"L40"'))).toBe(true);
  });

  it('a header row of one of them', () => {
    const below = sheetOf([['Tag', 'Type'], header, row('A-1', 1)], { name: 'S' });
    const headerRows = [{ file: 0, sheet: 'S', row: 1 }];
    const { project } = readBook(workbookOf(below), { answers: { ...noAnswers, headerRows } });
    expect(project.source?.sheets[0]?.headerRow).toBe(1);
  });
});
