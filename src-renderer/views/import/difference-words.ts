/** A difference of a revised file in words: what, where, what it was and what it is now. */
import { columns } from '../../../src-shared/columns/column-table.ts';
import { blankLine, blankSupply, blankType } from '../../../src-shared/document/blank.ts';
import type { Difference } from '../../../src-shared/exchange/revise/difference.ts';
import type { RecordColumn } from '../../grid/record-columns.ts';
import { lengthUnit } from '../../state/document-store.ts';
import { showReadValue } from '../../state/reading-words.ts';
import { lineColumns } from '../records/line-columns.ts';
import { supplyColumns } from '../records/supply-columns.ts';
import { typeColumns } from '../records/type-columns.ts';

type Kind = Difference['kind'];

/** What asks for a decision first. */
export const differenceKinds: readonly Kind[] = [
  'conflict',
  'locked',
  'removed',
  'added',
  'renumbered',
  'changed',
];

export const kindWord: Readonly<Record<Kind, string>> = {
  conflict: 'changed by both',
  locked: 'locked',
  removed: 'removed',
  added: 'added',
  renumbered: 'renumbered',
  changed: 'changed',
};

const tableWord: Readonly<Record<Difference['table'], string>> = {
  fixtures: '',
  runs: 'run ',
  circuits: 'circuit ',
  types: 'type ',
  lines: 'line ',
  supplies: 'panel ',
  project: 'job ',
};

/** `A-14`, `run R2`, `type F3`. */
export function differenceName({ table, name }: Difference): string {
  return `${tableWord[table]}${name}`;
}

const partTitles: Readonly<Record<string, string>> = {
  name: 'Name',
  revision: 'Revision',
  profile: 'Profile',
  supplyTolerancePct: 'Supply tolerance',
  branchDropPct: 'Branch drop limit',
  branchDropBinding: 'Branch drop binds',
  continuousFactor: 'Continuous load factor',
  defaultLine: 'Line of runs that name none',
  homeRunConductor: 'Home run conductor',
  dataOutput: 'Data output',
  exactOhmPerKm: 'Exact resistance',
  exactReactanceOhmPerKm: 'Exact reactance',
  displayUnit: 'Lengths in',
  conductorsPerFixture: 'Conductors per fixture',
  conductorsPerHeadBox: 'Conductors per head box',
};

interface FieldShown {
  readonly title: string;
  readonly text: (value: unknown) => string;
}

/** The column of the record's own table that shows a field; null: none does. */
function fieldShown({ table, field }: Difference): FieldShown | null {
  if (field === null) return null;
  const shown = <R extends object>(list: readonly RecordColumn<R>[], blank: R) => {
    const column = list.find(({ id }) => id === field);
    if (column === undefined) return null;
    const text = (value: unknown) => column.text({ ...blank, [field]: value });
    return { title: column.title, text };
  };
  if (table === 'types')
    return shown(
      typeColumns(() => 0),
      blankType(''),
    );
  if (table === 'lines') return shown(lineColumns(lengthUnit.value), blankLine(''));
  return table === 'supplies' ? shown(supplyColumns, blankSupply('')) : null;
}

/** Title of the field; empty where the whole record is meant. */
export function differenceField(difference: Difference): string {
  const { column, field } = difference;
  if (column !== null) return columns.find(({ id }) => id === column)?.title ?? column;
  if (field === null) return '';
  return fieldShown(difference)?.title ?? partTitles[field] ?? field;
}

/** One side of a difference as the grids show such a value. */
export function differenceValue(difference: Difference, value: unknown): string {
  if (value === null || value === undefined) return difference.field === null ? '' : 'nothing';
  const { column } = difference;
  const shown = column === null ? fieldShown(difference) : null;
  if (shown !== null) return shown.text(value);
  if (typeof value === 'string' || typeof value === 'number' || typeof value === 'boolean') {
    return showReadValue({ value, column }, lengthUnit.value);
  }
  return JSON.stringify(value);
}

/** `2 changed by both, 1 removed, 14 changed`. */
export function differenceCounts(differences: readonly Difference[]): string {
  const parts = differenceKinds.flatMap((kind) => {
    const count = differences.filter((difference) => difference.kind === kind).length;
    return count === 0 ? [] : [`${count} ${kindWord[kind]}`];
  });
  return parts.join(', ');
}
