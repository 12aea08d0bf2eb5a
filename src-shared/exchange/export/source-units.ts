/** The unit a source column's bare numbers stand in, and numbers in it. */
import { type ColumnId, columnById } from '../../columns/column-table.ts';
import type { Fixture, SourceColumn } from '../../document/project.ts';
import type { LengthUnit } from '../../units/length.ts';
import { matchUnit } from '../../units/match-unit.ts';
import { normaliseText } from '../../units/normalise-text.ts';
import { parseQuantity } from '../../units/parse-quantity.ts';
import {
  fromBaseUnit,
  type QuantityKind,
  quantityKinds,
  toBaseUnit,
  type UnitOfQuantity,
  unitNamed,
} from '../../units/quantity.ts';
import { type StatedIndex, statedValue } from './stated-value.ts';

/** What kind of quantity a column holds; null for a column of words. */
export function quantityKindOf(id: ColumnId): QuantityKind | null {
  const { kind } = columnById(id);
  switch (kind) {
    case 'length':
    case 'power':
    case 'voltage':
    case 'current':
    case 'leakage':
    case 'percent':
      return kind;
    case 'integer':
    case 'ratio':
    case 'unitLoad':
      return 'number';
    default:
      return null;
  }
}

function namedUnit(text: string, kind: QuantityKind): UnitOfQuantity | null {
  const normal = normaliseText(text);
  const unit = unitNamed(text) ?? matchUnit(normal, 0)?.unit ?? null;
  return unit !== null && unit.dimension === quantityKinds[kind].dimension ? unit : null;
}

export function isNear(a: number, b: number): boolean {
  return Math.abs(a - b) <= 1e-9 * Math.max(Math.abs(a), Math.abs(b));
}

const lengthUnits = ['ft', 'm', 'mm', 'in', 'cm'] as const;

/** Rows looked at to tell a column's unit. */
const mostSamples = 500;

/** The length unit under which most bare numbers of a column are what the document holds. */
function likeliestLengthUnit(
  place: number,
  id: ColumnId,
  fixtures: readonly Fixture[],
  index: StatedIndex,
): UnitOfQuantity | null {
  const votes = new Map<UnitOfQuantity, number>();
  let samples = 0;
  for (const fixture of fixtures) {
    const raw = fixture.origin?.cells[place];
    if (typeof raw !== 'number' || raw === 0) continue;
    const value = statedValue(fixture, id, index);
    if (typeof value !== 'number') continue;
    for (const name of lengthUnits) {
      const unit = unitNamed(name);
      if (unit !== null && isNear(toBaseUnit(raw, unit, 'length'), value)) {
        votes.set(unit, (votes.get(unit) ?? 0) + 1);
      }
    }
    samples += 1;
    if (samples === mostSamples) break;
  }
  let best: UnitOfQuantity | null = null;
  for (const [unit, count] of votes) if (count > (best ? (votes.get(best) ?? 0) : 0)) best = unit;
  return best;
}

/**
 * Unit of the bare numbers in source column `place`: the one its header states; for a length
 * without one, what the file's own numbers were read in; else the base unit. Null: a length in a
 * column that never held a bare number.
 */
export function unitOfColumn(
  column: SourceColumn,
  place: number,
  id: ColumnId,
  fixtures: readonly Fixture[],
  index: StatedIndex,
): UnitOfQuantity | null {
  const kind = quantityKindOf(id);
  if (kind === null || kind === 'number') return null;
  const stated = column.unit === null ? null : namedUnit(column.unit, kind);
  if (stated !== null) return stated;
  if (kind === 'length') return likeliestLengthUnit(place, id, fixtures, index);
  const { baseUnit } = quantityKinds[kind];
  return column.unit !== null || baseUnit === null ? null : unitNamed(baseUnit);
}

/** The shortest number in `unit` that is read back as the very same value; null when there is none. */
function exactInUnit(value: number, unit: UnitOfQuantity, kind: QuantityKind): number | null {
  const whole = fromBaseUnit(value, unit, kind);
  for (let digits = 12; digits <= 17; digits += 1) {
    const short = Number(whole.toPrecision(digits));
    if (toBaseUnit(short, unit, kind) === value) return short;
  }
  for (const step of [-1, 1]) {
    const beside = whole * (1 + step * Number.EPSILON);
    if (toBaseUnit(beside, unit, kind) === value) return beside;
  }
  return null;
}

/**
 * A base-unit value as the content of a cell in a column of `unit`: a number, or, where no number of
 * that unit is read back as the very same value (3.7 m among feet), text with its own unit.
 */
export function contentInUnit(
  value: number,
  unit: UnitOfQuantity,
  kind: QuantityKind,
): number | string {
  const exact = exactInUnit(value, unit, kind);
  if (exact !== null) return exact;
  const { baseUnit } = quantityKinds[kind];
  const text = `${value} ${baseUnit ?? ''}`;
  const read = parseQuantity(text, kind, { defaultUnit: null, decimal: 'dot' });
  return read.ok && read.value === value ? text : fromBaseUnit(value, unit, kind);
}

/** Longer numbers are hard to read and wider than most columns. */
const LONGEST_NUMBER = 9;

/**
 * The same for a cell that stays in the engineer's own column: where the number would be long and the
 * value is short in its base unit, text in that (`2.75 m` rather than 9.022309711286089 feet).
 */
export function shortContentInUnit(
  value: number,
  unit: UnitOfQuantity,
  kind: QuantityKind,
): number | string {
  const content = contentInUnit(value, unit, kind);
  const { baseUnit } = quantityKinds[kind];
  if (typeof content === 'string' || String(content).length <= LONGEST_NUMBER) return content;
  const text = `${value} ${baseUnit ?? ''}`;
  if (String(value).length >= String(content).length || unit.unit === baseUnit) return content;
  const read = parseQuantity(text, kind, { defaultUnit: null, decimal: 'dot' });
  return read.ok && read.value === value ? text : content;
}

/** A base-unit value as text with its unit: `12.5 ft`, `87 W`. */
export function textInUnit(value: number, kind: QuantityKind, lengthUnit: LengthUnit): string {
  const name = kind === 'length' ? lengthUnit : (quantityKinds[kind].baseUnit ?? '');
  const unit = unitNamed(name);
  const content = unit === null ? value : contentInUnit(value, unit, kind);
  return typeof content === 'string' ? content : `${content} ${name}`;
}
