/** What the raw content of a source column says on its own, without its surroundings. */
import type { ColumnId } from '../../columns/column-table.ts';
import type { CellValue } from '../../document/edit-cell.ts';
import type { Fixture, SourceColumn } from '../../document/project.ts';
import { parseConductorSize } from '../../units/conductor-size.ts';
import { normaliseText } from '../../units/normalise-text.ts';
import { parseQuantity } from '../../units/parse-quantity.ts';
import { type QuantityKind, toBaseUnit, type UnitOfQuantity } from '../../units/quantity.ts';
import type { CellContent } from './export-table.ts';
import { isNear, quantityKindOf, unitOfColumn } from './source-units.ts';
import type { StatedIndex } from './stated-value.ts';

function sameText(raw: string, value: string, id: ColumnId, unit: string | null): boolean {
  if (normaliseText(raw) === normaliseText(value)) return true;
  if (id !== 'conductor') return false;
  const right = parseConductorSize(value);
  if (!right.ok) return false;
  // A bare size has the unit of its header, and maybe a decimal comma.
  const plain = raw.trim().replace(/^(\d+),(\d+)/u, '$1.$2');
  return [raw, `${plain} ${unit ?? ''}`].some((text) => {
    const left = parseConductorSize(text);
    return (
      left.ok && JSON.stringify({ ...left, notes: [] }) === JSON.stringify({ ...right, notes: [] })
    );
  });
}

export const isoDate = /^\d{4}-\d{2}-\d{2}/u;

/** False where words were read from what a format showed (`1.50`, `4-Mar`): the stored value shows otherwise. */
export function showsItself(raw: CellContent, value: CellValue, id: ColumnId): boolean {
  if (typeof value !== 'string' || id === 'conductor') return true;
  return typeof raw === 'string' && !isoDate.test(raw);
}

export class ColumnReader {
  readonly id: ColumnId | null;
  readonly kind: QuantityKind | null;
  /** Unit of its bare numbers. */
  readonly unit: UnitOfQuantity | null;
  /** Unit as its header states it. */
  private readonly headerUnit: string | null;
  /** What raw texts are read as on their own. */
  private readonly known = new Map<string, number | null>();

  constructor(
    column: SourceColumn,
    place: number,
    fixtures: readonly Fixture[],
    index: StatedIndex,
  ) {
    const id = column.columnId as ColumnId | null;
    this.id = id;
    this.kind = id === null ? null : quantityKindOf(id);
    this.unit = id === null ? null : unitOfColumn(column, place, id, fixtures, index);
    this.headerUnit = column.unit;
  }

  /** What a bare or whole text is read as; null: not a quantity. */
  private read(raw: string | number): number | null {
    const { kind, unit } = this;
    if (kind === null) return null;
    if (typeof raw === 'number') return unit === null ? raw : toBaseUnit(raw, unit, kind);
    const known = this.known.get(raw);
    if (known !== undefined) return known;
    const defaultUnit = unit?.unit ?? null;
    const parsed = parseQuantity(raw, kind, { defaultUnit, decimal: 'either' });
    const value = parsed.ok ? parsed.value : null;
    this.known.set(raw, value);
    return value;
  }

  /** The raw content means the value, whatever stands around it. */
  says(raw: CellContent, value: CellValue): boolean {
    const { id, kind, unit } = this;
    if (raw === null || value === null || id === null || typeof raw === 'boolean') return false;
    if (typeof value === 'string') return sameText(String(raw), value, id, this.headerUnit);
    if (typeof raw === 'number' && kind === 'length' && unit === null) return false;
    const read = this.read(raw);
    return read !== null && isNear(read, value);
  }
}
