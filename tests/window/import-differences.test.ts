/** Differences of a revised file in words: every field of every table has a title and a text. */
import { expect, test } from 'vitest';
import {
  differenceCounts,
  differenceField,
  differenceName,
  differenceValue,
} from '../../src-renderer/views/import/difference-words.ts';
import { blankLine, blankSupply, blankType } from '../../src-shared/document/blank.ts';
import type { TableName, TableRecords } from '../../src-shared/document/change.ts';
import type { Difference } from '../../src-shared/exchange/revise/difference.ts';

function difference(over: Partial<Difference>): Difference {
  return {
    kind: 'changed',
    table: 'fixtures',
    key: 'f1',
    name: 'A-01',
    field: 'spanM',
    column: 'span',
    was: 2.5,
    now: 3,
    note: '',
    ...over,
  };
}

test('a value is shown as its grid shows it, a missing one as nothing', () => {
  const span = difference({});
  expect(differenceField(span)).toBe('Span');
  expect(differenceValue(span, 0.3048)).toBe('1 ft');
  expect(differenceValue(span, null)).toBe('nothing');
  const modes = difference({ table: 'types', name: 'F1', field: 'modes', column: null });
  expect(differenceName(modes)).toBe('type F1');
  expect(differenceField(modes)).toBe('Modes');
  expect(differenceValue(modes, [{ name: '5ch', footprint: 5 }])).toBe('5ch = 5');
  const whole = difference({ field: null, column: null, kind: 'added', was: null });
  expect(differenceField(whole)).toBe('');
  expect(differenceValue(whole, null)).toBe('');
});

test('no field of types, lines and panels is without words', () => {
  const records: readonly (readonly [TableName, TableRecords[TableName]])[] = [
    ['types', blankType('F1')],
    ['lines', blankLine('L')],
    ['supplies', blankSupply('LP')],
  ];
  for (const [table, record] of records) {
    for (const [field, value] of Object.entries(record)) {
      const one = difference({ table, field, column: null });
      // A name of ours, such as conductorsPerFixture, would begin with a small letter.
      expect(differenceField(one)).toMatch(/^[A-Z]/u);
      expect(typeof differenceValue(one, value)).toBe('string');
    }
  }
});

test('counts stand in the order of what asks for a decision', () => {
  const kinds = ['changed', 'added', 'conflict', 'changed'] as const;
  expect(differenceCounts(kinds.map((kind) => difference({ kind })))).toBe(
    '1 changed by both, 1 added, 2 changed',
  );
});
