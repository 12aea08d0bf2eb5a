/** The shape of a file, and what is remembered for it. Cases invented. */
import { describe, expect, it } from 'vitest';
import { noAnswers } from '../../src-shared/document/import-answers.ts';
import { shapeOf } from '../../src-shared/exchange/shape/file-shape.ts';
import {
  readRememberedAnswers,
  rememberedAnswers,
} from '../../src-shared/exchange/shape/remembered-answers.ts';
import { type CellInput, sheetOf, workbookOf } from './build-workbook.ts';

const header = ['Tag', 'Type', 'Span (m)', 'Crate'];
const book = (head: readonly CellInput[], above: CellInput[][] = [], rows: CellInput[][] = []) =>
  workbookOf(sheetOf([...above, head, ['A-1', 'T', 2, 1], ...rows]));

describe('a shape', () => {
  const shape = shapeOf(book(header));

  it('is a short key', () => expect(shape).toMatch(/^[a-z0-9.-]{1,120}$/u));

  it.each([
    ['other rows above and below', book(header, [['Job 9'], ['Rev C']], [['A-2', 'T', 3, 9]])],
    ['other capitals and blanks', book(['TAG', 'Type ', 'span  (M)', 'Crate'])],
    ['our columns behind', book([...header, 'Drop', 'Runledger id'])],
  ])('is the same with %s', (_, other) => expect(shapeOf(other)).toBe(shape));

  it.each([
    ['a header more', book([...header, 'Area'])],
    ['another order', book(['Type', 'Tag', 'Span (m)', 'Crate'])],
    ['another unit', book(['Tag', 'Type', 'Span (ft)', 'Crate'])],
  ])('is another with %s', (_, other) => expect(shapeOf(other)).not.toBe(shape));

  it('is that of the sheet and row named', () => {
    const two = workbookOf(
      sheetOf([header, ['A-1', 'T', 1, 1]]),
      sheetOf([['Tag', 'X']], { name: 'B' }),
    );
    expect(shapeOf(two)).toBe(shape);
    expect(shapeOf(two, 'B', 1)).not.toBe(shape);
    expect(shapeOf(two, 'Schedule', 1)).toBe(shape);
  });

  it('is said where there is no header', () => {
    expect(shapeOf(workbookOf(sheetOf([['hello']])))).toMatch(/^[a-z0-9.-]+$/u);
    expect(shapeOf(workbookOf())).toMatch(/^[a-z0-9.-]+$/u);
  });
});

describe('remembered answers', () => {
  const answers = {
    ...noAnswers,
    sheets: [
      { file: 0, sheet: 'L41' },
      { file: 1, sheet: 'Other' },
    ],
    headerRows: [{ file: 0, sheet: 'L41', row: 4 }],
    columns: [{ header: 'Crate', columnId: null }],
    questions: [
      { id: 'hidden-rows' as const, file: 0, value: 'read' },
      { id: 'tag-match' as const, file: 1, value: 'exact' },
    ],
    cells: [{ cell: 'L41!A1', raw: 'x', text: 'y' }],
  };

  it('come back, those of the first file, cells aside', () => {
    const text = rememberedAnswers({ answers });
    expect(readRememberedAnswers(text ?? '')).toEqual({
      ...answers,
      sheets: [{ file: 0, sheet: 'L41' }],
      questions: [{ id: 'hidden-rows', file: 0, value: 'read' }],
      cells: [],
      accepted: [],
    });
  });

  it('are none where nothing was answered', () => {
    expect(rememberedAnswers({ answers: noAnswers })).toBeNull();
    expect(rememberedAnswers({ answers: { ...noAnswers, cells: answers.cells } })).toBeNull();
  });

  it.each(['', 'x', '{}', '[1]', '{"sheets":null,"headerRows":[],"columns":[],"questions":[1]}'])(
    '%j says nothing',
    (text) => expect(readRememberedAnswers(text)).toBeNull(),
  );
});
