/** A cell as watts, or as volt-amperes or amperes that need more to become watts. */
import type { SourceCell } from '../../document/source-workbook.ts';
import { type CellReading, refused, told } from './cell-reading.ts';
import { habitOfUnit, type QuantityReading, readQuantityCell } from './read-quantity-cell.ts';
import type { ColumnHabit } from './sheet-habits.ts';

export type LoadReading =
  | { readonly kind: 'watts'; readonly reading: CellReading<number> }
  /** VA × power factor gives watts. */
  | { readonly kind: 'voltAmperes'; readonly va: number; readonly note: string }
  /** A × V × power factor gives watts. */
  | { readonly kind: 'amperes'; readonly currentA: number; readonly note: string };

const apparent = new Set(['VA', 'kVA']);
const amperes = new Set(['A', 'mA', 'µA']);

const watts = (reading: CellReading<number>): LoadReading => ({ kind: 'watts', reading });

function asCurrent(reading: QuantityReading): LoadReading | null {
  if (reading.value === null) return null;
  if (reading.value < 0) return watts(refused('a current cannot be negative'));
  return { kind: 'amperes', currentA: reading.value, note: reading.note };
}

/** Reads a load. A unit in the cell wins over that of the header; a bare number under a header without unit is taken as watts, flagged. */
export function readLoadCell(cell: SourceCell, habit: ColumnHabit): LoadReading {
  const headerAmps = habit.unit !== null && amperes.has(habit.unit);
  if (headerAmps) {
    const current = readQuantityCell(cell, 'current', habit);
    const read = asCurrent(current);
    if (read !== null) return read;
  }
  const power = readQuantityCell(cell, 'power', headerAmps ? habitOfUnit(null) : habit);
  if (power.value === null && !headerAmps && typeof cell.value === 'string') {
    const current = readQuantityCell(cell, 'current', {
      ...habitOfUnit(null),
      decimal: habit.decimal,
    });
    const read = asCurrent(current);
    if (read !== null) return read;
  }
  if (power.value === null) return watts(power);
  if (power.value < 0) return watts(refused('a load cannot be negative'));
  const unit = power.unit ?? habit.unit;
  if (unit !== null && apparent.has(unit)) {
    return { kind: 'voltAmperes', va: power.value, note: power.note };
  }
  return watts(power);
}

/** Watts from volt-amperes: W = VA · power factor. */
export function wattsFromVoltAmperes(
  va: number,
  powerFactor: number | null,
  note: string,
): CellReading<number> {
  const before = note === '' ? [] : [note];
  if (powerFactor === null) {
    return refused([...before, 'in VA: the power factor is needed to know its watts'].join('; '));
  }
  return told(va * powerFactor, 'likely', [...before, `${va} VA × power factor ${powerFactor}`]);
}

/** Watts from amperes at the supply: W = A · V · power factor. */
export function wattsFromAmperes(
  currentA: number,
  supplyV: number | null,
  powerFactor: number | null,
  note: string,
): CellReading<number> {
  const before = note === '' ? [] : [note];
  if (supplyV === null || powerFactor === null) {
    const needs = [
      ...(supplyV === null ? ['the supply voltage'] : []),
      ...(powerFactor === null ? ['the power factor'] : []),
    ].join(' and ');
    return refused([...before, `in A: ${needs} is needed to know its watts`].join('; '));
  }
  const formula = `${currentA} A × ${supplyV} V × power factor ${powerFactor}`;
  return told(currentA * supplyV * powerFactor, 'guess', [...before, formula]);
}
