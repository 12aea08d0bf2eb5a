import { columns } from '../../src-shared/columns/column-table.ts';
import type { Reading } from '../../src-shared/document/project.ts';
import type { LengthUnit } from '../../src-shared/units/length.ts';
import { showContent } from './cell-text.ts';

/** What a cell was read as, with its unit; lengths in the unit of the job. */
export function showReadValue(
  { value, column }: Pick<Reading, 'value' | 'column'>,
  unit: LengthUnit,
): string {
  if (value === null) return 'nothing';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  const known = columns.find(({ id }) => id === column);
  if (known === undefined || typeof value === 'string') return String(value);
  const shown = showContent(value, known.id, unit);
  return known.kind === 'length' || known.unit === null ? shown : `${shown} ${known.unit}`;
}
