/** Answers about the source: one more, one less, never two for one thing. */
import { describe, expect, test } from 'vitest';
import {
  acceptedIn,
  answerAt,
  withAccepted,
  withCells,
  withColumn,
  withHeaderRow,
  withoutAccepted,
  withoutCells,
  withQuestion,
} from '../../src-renderer/state/import-answer-edits.ts';
import { noAnswers } from '../../src-shared/document/import-answers.ts';
import type { Reading } from '../../src-shared/document/project.ts';

const reading: Reading = {
  cell: 'L41!G5',
  raw: '46',
  column: 'load',
  value: 46,
  confidence: 'guess',
  note: 'no unit',
};

describe('answers about the source', () => {
  test('a second answer for a cell takes the place of the first; taken back, none is left', () => {
    const once = withCells(noAnswers, [{ cell: 'A!B2', raw: '1', text: '2' }]);
    const twice = withCells(once, [{ cell: 'A!B2', raw: '1', text: null }]);
    expect(twice.cells).toEqual([{ cell: 'A!B2', raw: '1', text: null }]);
    expect(answerAt(twice, 'A!B2')?.text).toBeNull();
    expect(answerAt(twice, 'A!B3')).toBeNull();
    expect(withoutCells(twice, new Set(['A!B2']))).toEqual(noAnswers);
  });

  test('a header and a header row are answered once each', () => {
    const columns = withColumn(withColumn(noAnswers, 'Ref', 'tag'), 'Ref', null).columns;
    expect(columns).toEqual([{ header: 'Ref', columnId: null }]);
    const key = { file: 0, sheet: 'L41' };
    const rows = withHeaderRow(withHeaderRow(noAnswers, key, 4), key, 5).headerRows;
    expect(rows).toEqual([{ ...key, row: 5 }]);
    expect(
      withHeaderRow({ ...noAnswers, headerRows: rows }, { file: 1, sheet: 'L41' }, 2).headerRows,
    ).toHaveLength(2);
  });

  test('a question is answered, answered otherwise, and open again', () => {
    const asked = { id: 'hidden-rows', file: 0 } as const;
    const read = withQuestion(noAnswers, asked, 'read');
    expect(withQuestion(read, asked, 'skip').questions).toEqual([{ ...asked, value: 'skip' }]);
    expect(withQuestion(read, asked, null)).toEqual(noAnswers);
  });

  test('accepted is a cell with its column and its text: another text is open again', () => {
    const accepted = withAccepted(withAccepted(noAnswers, [reading]), [reading, reading]);
    expect(accepted.accepted).toHaveLength(1);
    expect(acceptedIn(accepted)(reading)).toBe(true);
    expect(acceptedIn(accepted)({ ...reading, raw: '48' })).toBe(false);
    expect(acceptedIn(accepted)({ ...reading, column: 'supply' })).toBe(false);
    expect(withoutAccepted(accepted, [reading])).toEqual(noAnswers);
    const otherwise = withCells(accepted, [{ cell: reading.cell, raw: '46', text: '64' }]);
    expect(acceptedIn(otherwise)(reading)).toBe(false);
  });

  test('of two remarks on one file each is accepted by its own words', () => {
    const remark = { ...reading, cell: 'install.xlsx', raw: '', column: 'tag', note: 'one' };
    const accepted = acceptedIn(withAccepted(noAnswers, [remark]));
    expect(accepted(remark)).toBe(true);
    expect(accepted({ ...remark, note: 'another' })).toBe(false);
  });
});
