/** Answers kept with the document, and what only the engineer knows of a file. Rules: the check command's contract; cases invented. */
import { describe, expect, it } from 'vitest';
import { noAnswers } from '../../src-shared/document/import-answers.ts';
import type { ImportAnswers, ImportQuestion } from '../../src-shared/document/project.ts';
import {
  answersFor,
  type CellInput,
  readBook,
  readingAt,
  readingsOf,
  readRowsOf,
  type SheetInput,
  sheetOf,
  workbookOf,
} from './build-workbook.ts';

const header = ['Tag', 'Type', 'Span m'];
const rows = [header, ['A-1', 'T', 'tbc'], ['A-2', 'T', 3]];

const answering = (id: ImportQuestion['id'], value: string): ImportAnswers => ({
  ...noAnswers,
  questions: [{ id, file: 0, value }],
});

describe('an answer for a cell', () => {
  it('is used where the cell still says what it was given for', () => {
    const answers = answersFor(['Schedule!C2', 'tbc', '2.5 m']);
    const project = readRowsOf(rows, {}, { answers });
    expect(project.fixtures[0]?.spanM).toBe(2.5);
    expect(project.source?.answers).toEqual(answers);
  });

  it('is not used where it says something else now, and that is told', () => {
    const answers = answersFor(['Schedule!C2', 'to be confirmed', '2.5 m']);
    const project = readRowsOf(rows, {}, { answers });
    expect(project.fixtures[0]).toMatchObject({ spanM: null, unread: ['span'] });
    const told = readingsOf(project).filter(({ cell }) => cell === 'Schedule!C2');
    expect(told.map(({ note }) => note).join()).toContain('when it said "to be confirmed"');
    // It stays with the document, for a file that says so again.
    expect(project.source?.answers).toEqual(answers);
  });

  it('for a row that is gone is told of the file', () => {
    const project = readRowsOf(rows, {}, { answers: answersFor(['Schedule!C90', 'x', 'y']) });
    expect(readingAt(project, 'job.xlsx')?.note).toContain('Schedule!C90');
    const other = readRowsOf(rows, {}, { answers: answersFor(['Nowhere!A1', 'x', 'y']) });
    expect(readingAt(other, 'job.xlsx')?.note).toContain('Nowhere!A1');
  });

  it('read again with itself gives the same project', () => {
    const answers = answersFor(['Schedule!C2', 'tbc', '2.5 m'], ['Schedule!C3', '9', null]);
    const once = readRowsOf(rows, {}, { answers });
    const kept = once.source?.answers;
    if (kept === undefined) throw new Error('no source');
    expect(readRowsOf(rows, {}, { answers: kept })).toEqual(once);
  });

  it('that leaves a cell of a merged area blank keeps it blank', () => {
    const merges = [{ firstRow: 2, lastRow: 3, firstColumn: 1, lastColumn: 1 }];
    const merged = [header, ['A-1', 'T', 1], ['A-2', null, 1]];
    const answers = answersFor(['Schedule!B3', '', null]);
    expect(readRowsOf(merged, { merges }).fixtures[1]?.type).toBe('T');
    expect(readRowsOf(merged, { merges }, { answers }).fixtures[1]?.type).toBeNull();
  });
});

describe('an answer for a column', () => {
  it('holds for the header, and for none that is not there', () => {
    const columns = [
      { header: 'Type', columnId: 'run' },
      { header: 'Gone', columnId: 'span' },
    ];
    const project = readRowsOf(rows, {}, { answers: { ...noAnswers, columns } });
    expect(project.fixtures[0]).toMatchObject({ run: 'T', type: null });
    expect(readingAt(project, 'job.xlsx')?.note).toContain('"Gone"');
  });

  it('the last word on a column holds', () => {
    const columns = [
      { header: 'Type', columnId: 'run' },
      { header: 'Span m', columnId: 'run' },
    ];
    const project = readRowsOf(rows, {}, { answers: { ...noAnswers, columns } });
    expect(project.fixtures[1]).toMatchObject({ run: '3', type: null });
  });
});

describe('the base of universes', () => {
  const read = (cells: readonly CellInput[], column = 'Univ', answers = noAnswers) =>
    readRowsOf([['Tag', column], ...cells.map((c, i) => [`A-${i}`, c])], {}, { answers });
  const universes = (cells: readonly CellInput[], column?: string, answers?: ImportAnswers) =>
    read(cells, column, answers).fixtures.map(({ universe }) => universe);

  it('is 0 in the whole file where a universe 0 occurs, told and asked', () => {
    expect(universes([0, 1, 'U2'])).toEqual([1, 2, 3]);
    const project = read([0, 1]);
    expect(project.source?.sheets[0]?.universeBase).toBe(0);
    expect(project.source?.questions).toMatchObject([{ id: 'universe-base', chosen: '0' }]);
    expect(readingAt(project, 'Schedule!B3')?.note).toContain('from 0');
  });

  it('is 0 where an address names it', () => {
    expect(universes(['0.101', '1.1', '2/10'], 'Start')).toEqual([1, 2, 3]);
  });

  it('is 1 elsewhere, unasked', () => {
    expect(universes([1, 2])).toEqual([1, 2]);
    expect(read([1, 2]).source?.questions).toEqual([]);
  });

  it('is not told by an address 0 that names no universe', () => {
    expect(read([0, 12], 'Start').source?.questions).toEqual([]);
  });

  it('is as the title says', () => {
    const titled = (title: string) =>
      readRowsOf([[title], ['Tag', 'Univ'], ['A-1', 1]]).source?.questions[0]?.chosen;
    expect(titled('DMX label = universe/slot, universes from 1')).toBe('1');
    expect(titled('Universes start at 0')).toBe('0');
    expect(titled('Universe patch')).toBeUndefined();
  });

  it('is as answered: 1 refuses universe 0, 0 raises what has none', () => {
    expect(universes([0, 1], 'Univ', answering('universe-base', '1'))).toEqual([null, 1]);
    expect(universes([1, 2], 'Univ', answering('universe-base', '0'))).toEqual([2, 3]);
  });

  it('is not told by a hidden row', () => {
    const hidden = readRowsOf(
      [
        ['Tag', 'Univ'],
        ['A-1', 1],
        ['A-2', 0],
      ],
      { hiddenRows: [3] },
    );
    expect(hidden.fixtures[0]?.universe).toBe(1);
    expect(hidden.source?.questions.map(({ id }) => id)).toEqual(['hidden-rows']);
  });
});

describe('hidden rows and columns', () => {
  const body = [header, ['A-1', 'T', 1], ['A-2', 'T', 2], ['A-3', 'T', 3]];
  const read = (input: SheetInput, answers = noAnswers) => readRowsOf(body, input, { answers });

  it('are skipped and asked for; a filter is told from a hand', () => {
    const project = read({ hiddenRows: [3], filteredRows: [4] });
    expect(project.source?.sheets[0]?.rowsSkipped).toEqual([
      { row: 3, reason: 'hidden' },
      { row: 4, reason: 'hidden by a filter' },
    ]);
    expect(project.source?.questions).toMatchObject([{ id: 'hidden-rows', chosen: 'skip' }]);
    expect(project.source?.questions[0]?.text).toContain('1 of them by a filter');
  });

  it('are read when the engineer says so', () => {
    const project = read({ hiddenRows: [3], filteredRows: [4] }, answering('hidden-rows', 'read'));
    expect(project.fixtures).toHaveLength(3);
    expect(project.source?.questions).toMatchObject([{ chosen: 'read', answered: true }]);
  });

  it('are no question above the header or where there are none', () => {
    expect(read({}).source?.questions).toEqual([]);
    const above = readRowsOf([['Title'], ...body], { hiddenRows: [1] });
    expect(above.source?.questions).toEqual([]);
  });

  it('columns are read and told', () => {
    const project = read({ hiddenColumns: [2] });
    expect(project.fixtures[0]?.spanM).toBe(1);
    expect(readingAt(project, 'Schedule!C1')?.note).toContain('hidden');
    expect(readingAt(read({}), 'Schedule!C1')).toBeUndefined();
  });
});

describe('options of the check command', () => {
  it('stand with the answers', () => {
    const book = workbookOf(
      sheetOf(rows),
      sheetOf(
        [
          ['Tag', 'X'],
          ['B-1', 1],
        ],
        { name: 'Two' },
      ),
    );
    const map = new Map([['X', 'place']]);
    const { project } = readBook(book, { sheet: 'two', headerRow: 1, map, hidden: 'read' });
    expect(project.source?.answers).toMatchObject({
      sheets: [{ file: 0, sheet: 'Two' }],
      headerRows: [{ file: 0, sheet: 'Two', row: 1 }],
      columns: [{ header: 'X', columnId: 'place' }],
      questions: [{ id: 'hidden-rows', file: 0, value: 'read' }],
    });
  });
});
