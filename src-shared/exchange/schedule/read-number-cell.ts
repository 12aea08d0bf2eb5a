/** A cell of a numeric column, whatever its kind. */
import type { SourceColumnId } from '../../columns/column-table.ts';
import { columnById } from '../../columns/column-table.ts';
import { whyUnfit } from '../../document/edit-cell.ts';
import type { SourceCell } from '../../document/source-workbook.ts';
import type { QuantityKind } from '../../units/quantity.ts';
import { type CellReading, refused } from './cell-reading.ts';
import { type CountColumn, readCountCell } from './read-count-cell.ts';
import { readPowerFactorCell } from './read-power-factor-cell.ts';
import { readQuantityCell } from './read-quantity-cell.ts';
import type { ColumnHabit } from './sheet-habits.ts';

const quantityKindOf: Readonly<Record<string, QuantityKind>> = {
  length: 'length',
  power: 'power',
  ratio: 'number',
  voltage: 'voltage',
  current: 'current',
  leakage: 'leakage',
  unitLoad: 'number',
};

/** Reads a number in the base unit of its column; a load or an address has a reader of its own. */
export function readNumberCell(
  cell: SourceCell,
  id: SourceColumnId,
  habit: ColumnHabit,
  universeBase: 0 | 1,
): CellReading<number> {
  const { kind } = columnById(id);
  if (kind === 'integer') return readCountCell(cell, id as CountColumn, universeBase);
  if (id === 'powerFactor') return readPowerFactorCell(cell, habit);
  return readQuantityCell(cell, quantityKindOf[kind] ?? 'number', habit);
}

/** Refuses what the column cannot hold; an absurd number stands as it is: its limit finds it. */
export function whyNotFit(id: SourceColumnId, reading: CellReading<number>): CellReading<number> {
  const asItStands = id === 'quantity' || id === 'footprint';
  if (reading.value === null || asItStands) return reading;
  const why = whyUnfit(id, reading.value);
  return why === null ? reading : refused(why);
}
