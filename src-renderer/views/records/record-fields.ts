/** Columns of a table of records that set one field: text in, a command or a reason out. */
import type { TableName, TableRecords } from '../../../src-shared/document/change.ts';
import { keyOf } from '../../../src-shared/document/change.ts';
import type { Edit } from '../../../src-shared/document/edit-cell.ts';
import { formatTrimmed } from '../../../src-shared/units/format-quantity.ts';
import type { QuantityKind } from '../../../src-shared/units/quantity.ts';
import type { RecordColumn } from '../../grid/record-columns.ts';
import { lengthUnit } from '../../state/document-store.ts';
import type { ReadList } from '../../state/list-entries.ts';
import { readQuantityText } from '../../state/parse-cell.ts';
import { setField } from '../../state/record-commands.ts';

export interface FieldHead {
  readonly title: string;
  readonly help?: string;
  readonly width: number;
}

type FieldOf<T extends TableName, V> = {
  [F in keyof TableRecords[T]]: [V, TableRecords[T][F]] extends [TableRecords[T][F], V] ? F : never;
}[keyof TableRecords[T]];

const refuse = (reason: string): Edit => ({ ok: false, reason });

/** A column of free words. */
export function textField<T extends TableName>(
  table: T,
  field: FieldOf<T, string | null>,
  head: FieldHead,
): RecordColumn<TableRecords[T]> {
  return {
    id: String(field),
    ...head,
    text: (record) => String(record[field] ?? ''),
    edit: (record, text) =>
      setField(
        table,
        keyOf(table, record),
        field,
        (text.trim() === '' ? null : text.trim()) as TableRecords[T][typeof field],
        `${head.title} of ${keyOf(table, record)}`,
      ),
  };
}

/** A column of one quantity, held in its SI unit. `check`: why a value does not fit. */
export function quantityField<T extends TableName>(
  table: T,
  field: FieldOf<T, number | null>,
  kind: QuantityKind,
  unit: string,
  head: FieldHead,
  check: (value: number) => string | null = () => null,
): RecordColumn<TableRecords[T]> {
  const shown = (value: number) => (unit === '' ? value : `${value} ${unit}`);
  return {
    id: String(field),
    ...head,
    figures: true,
    text: (record) => {
      const value = record[field];
      return typeof value === 'number' ? String(shown(Number(formatTrimmed(value, 4)))) : '';
    },
    edit: (record, text) => {
      const label = `${head.title} of ${keyOf(table, record)}`;
      const set = (value: number | null) =>
        setField(table, keyOf(table, record), field, value as TableRecords[T][typeof field], label);
      if (text.trim() === '') return set(null);
      const read = readQuantityText(text, kind, lengthUnit.value);
      if (read === 'later') return refuse('Sums are still being loaded; type it once more.');
      if (!read.ok) return refuse(`${head.title} not taken: ${read.reason}.`);
      const why = read.value < 0 ? `${head.title} cannot be negative.` : check(read.value);
      return why === null ? set(read.value) : refuse(why);
    },
  };
}

/** A column of a list, such as modes or stock lengths. */
export function listField<T extends TableName, I>(
  table: T,
  field: FieldOf<T, readonly I[]>,
  head: FieldHead,
  show: (list: readonly I[]) => string,
  read: (text: string) => ReadList<I>,
): RecordColumn<TableRecords[T]> {
  return {
    id: String(field),
    ...head,
    text: (record) => show(record[field] as readonly I[]),
    edit: (record, text) => {
      const list = read(text);
      if (!list.ok) return refuse(`${head.title} not taken: ${list.reason}.`);
      return setField(
        table,
        keyOf(table, record),
        field,
        list.value as TableRecords[T][typeof field],
        `${head.title} of ${keyOf(table, record)}`,
      );
    },
  };
}

/** A column that takes one of a few words; the first letters are enough. */
export function choiceField<T extends TableName, V>(
  table: T,
  field: keyof TableRecords[T],
  head: FieldHead,
  choices: readonly (readonly [V, string])[],
): RecordColumn<TableRecords[T]> {
  const words = choices.map(([, word]) => word).filter((word) => word !== '');
  return {
    id: String(field),
    ...head,
    text: (record) => choices.find(([value]) => value === record[field])?.[1] ?? '',
    edit: (record, text) => {
      const typed = text.trim().toLowerCase();
      const fits = choices.filter(([, word]) =>
        typed === '' ? word === '' : word !== '' && word.toLowerCase().startsWith(typed),
      );
      const [only] = fits;
      if (only === undefined || fits.length > 1) {
        return refuse(`${head.title} takes ${words.join(' or ')}.`);
      }
      const label = `${head.title} of ${keyOf(table, record)}`;
      return setField(
        table,
        keyOf(table, record),
        field,
        only[0] as unknown as TableRecords[T][typeof field],
        label,
      );
    },
  };
}
