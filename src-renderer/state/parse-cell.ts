/** What an engineer types into a cell, read through the units of src-shared. */
import {
  type ColumnId,
  type ColumnKind,
  columnById,
} from '../../src-shared/columns/column-table.ts';
import { parseConductorSize } from '../../src-shared/units/conductor-size.ts';
import type { LengthUnit } from '../../src-shared/units/length.ts';
import {
  createSumParser,
  type ParsedEntry,
  parsePlainEntry,
  type SumParser,
} from '../../src-shared/units/parse-sum.ts';
import type { QuantityKind } from '../../src-shared/units/quantity.ts';

export type ReadEntry =
  | { readonly ok: true; readonly value: string | number | null; readonly echo: string | null }
  | { readonly ok: false; readonly reason: string };

const quantityOf: Readonly<Partial<Record<ColumnKind, QuantityKind>>> = {
  integer: 'number',
  length: 'length',
  power: 'power',
  ratio: 'number',
  voltage: 'voltage',
  current: 'current',
  percent: 'percent',
  leakage: 'leakage',
  unitLoad: 'number',
};

const defaultUnits: Readonly<Partial<Record<QuantityKind, string>>> = {
  power: 'W',
  voltage: 'V',
  current: 'A',
  percent: '%',
  leakage: 'mA',
  resistancePerLength: 'ohm/km',
};

let sums: SumParser | null = null;
let loading: Promise<SumParser> | null = null;

/** Loads the arithmetic once, when the window is up. */
export async function loadSums(): Promise<void> {
  loading ??= createSumParser();
  sums = await loading;
}

/** One quantity or sum. `later`: the arithmetic is not loaded yet. */
export function readQuantityText(
  text: string,
  kind: QuantityKind,
  unit: LengthUnit,
): ParsedEntry | 'later' {
  const defaultUnit = kind === 'length' ? unit : (defaultUnits[kind] ?? null);
  const options = { defaultUnit, decimal: 'either' } as const;
  const plain = parsePlainEntry(text, kind, options);
  if (plain !== null) return plain;
  return sums === null ? 'later' : sums.parse(text, kind, options);
}

/** A cell's new text. Empty clears. A refusal says what to write; nothing is guessed. */
export function readCellText(
  text: string,
  column: ColumnId,
  unit: LengthUnit,
): ReadEntry | 'later' {
  const trimmed = text.trim();
  if (trimmed === '') return { ok: true, value: null, echo: null };
  const { kind, title } = columnById(column);
  if (column === 'conductor') {
    const size = parseConductorSize(trimmed);
    return size.ok ? { ok: true, value: trimmed, echo: null } : refused(title, size.reason);
  }
  const quantity = quantityOf[kind];
  if (quantity === undefined) return { ok: true, value: trimmed, echo: null };
  const read = readQuantityText(addressOnly(trimmed, column), quantity, unit);
  if (read === 'later') return read;
  if (!read.ok) return refused(title, read.reason);
  if (kind === 'power' && (read.unit === 'VA' || read.unit === 'kVA')) {
    return refused(title, 'these are volt-amperes; give watts here and the power factor beside');
  }
  return { ok: true, value: read.value, echo: read.echo };
}

/** `66–70` as the grid shows it is start 66: the last address follows from the footprint. */
function addressOnly(text: string, column: ColumnId): string {
  const pair = column === 'address' ? /^(\d{1,3}) ?[–-] ?\d{1,3}$/u.exec(text) : null;
  return pair?.[1] ?? text;
}

function refused(title: string, reason: string): ReadEntry {
  return { ok: false, reason: `${title} not taken: ${reason}.`.replace(/\.\.$/u, '.') };
}
