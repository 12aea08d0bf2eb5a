/** What the rest of a column or sheet says about its decimal mark and its unit of length. */

import { columnById } from '../../columns/column-table.ts';
import type { ProfileId } from '../../document/project.ts';
import type { SourceRow, SourceSheet } from '../../document/source-workbook.ts';
import type { LengthUnit } from '../../units/length.ts';
import { normaliseText } from '../../units/normalise-text.ts';
import { parseQuantity } from '../../units/parse-quantity.ts';
import { unitNamed } from '../../units/quantity.ts';
import type { DecimalMark } from '../../units/read-number.ts';
import type { FoundHeader } from './find-header.ts';
import type { ReadColumn } from './plan-columns.ts';

/** Where the unit of a bare number comes from. */
export type UnitSource = 'header' | 'implied' | 'sheet' | 'mixed' | 'profile';

export interface ColumnHabit {
  readonly decimal: DecimalMark;
  /** Unit of a number written without one; null: none is needed. */
  readonly unit: string | null;
  readonly unitFrom: UnitSource;
}

export interface SheetHabits {
  readonly byColumn: ReadonlyMap<number, ColumnHabit>;
  /** The unit the schedule writes its lengths in. */
  readonly displayUnit: LengthUnit;
}

interface Evidence {
  commas: number;
  dots: number;
  /** Units written in the cells, with their number. */
  readonly units: Map<string, number>;
}

const decimalComma = /\d,\d{1,2}(?![\d,])|\d,\d{4,}|^0,\d|\.\d{3},\d/u;
const decimalDot = /\d\.\d{1,2}(?![\d.])|\d\.\d{4,}|^0\.\d|,\d{3}\.\d/u;

function markOf(commas: number, dots: number): DecimalMark | null {
  if (commas > 0 && dots === 0) return 'comma';
  if (dots > 0 && commas === 0) return 'dot';
  return commas > 0 ? 'either' : null;
}

const memoLimit = 2000;

/** Unit written in a length's text; null when there is none or the text is no length. Memoised. */
function lengthUnitIn(text: string, memo: Map<string, string | null>): string | null {
  let unit = memo.get(text);
  if (unit === undefined) {
    const read = parseQuantity(text, 'length', { defaultUnit: 'm', decimal: 'either' });
    unit = read.ok ? read.unit : null;
    if (memo.size < memoLimit) memo.set(text, unit);
  }
  return unit;
}

const plainDigits = /^\d*$/u;
const loadUnit = /\d\s*(kW|W|kVA|VA|mA|A)\b/u;

function gather(rows: readonly SourceRow[], read: readonly ReadColumn[]): Map<number, Evidence> {
  const byColumn = new Map<number, Evidence>();
  const isLength = new Set<number>();
  const isLoad = new Set<number>();
  for (const { id, column } of read) {
    const { kind } = columnById(id);
    // Text may hold commas of every meaning, and counts have no decimals.
    if (kind === 'text' || kind === 'integer') continue;
    byColumn.set(column, { commas: 0, dots: 0, units: new Map() });
    if (kind === 'length') isLength.add(column);
    if (kind === 'power') isLoad.add(column);
  }
  const memo = new Map<string, string | null>();
  for (const row of rows) {
    for (const cell of row.cells) {
      const evidence = byColumn.get(cell.column);
      if (evidence === undefined) continue;
      const { text } = cell;
      if (cell.kind === 'text') {
        if (plainDigits.test(text)) continue;
        if (decimalComma.test(text)) evidence.commas += 1;
        if (decimalDot.test(text)) evidence.dots += 1;
      }
      const load = isLoad.has(cell.column) ? loadUnit.exec(text)?.[1] : undefined;
      if (load !== undefined) evidence.units.set(load, (evidence.units.get(load) ?? 0) + 1);
      if (!isLength.has(cell.column) || /^[\d.,\s]*$/u.test(text)) continue;
      const unit = lengthUnitIn(text, memo);
      if (unit !== null) evidence.units.set(unit, (evidence.units.get(unit) ?? 0) + 1);
    }
  }
  return byColumn;
}

function most(counts: ReadonlyMap<string, number>): string | null {
  let best: string | null = null;
  let highest = 0;
  for (const [unit, count] of counts) {
    if (count > highest) {
      best = unit;
      highest = count;
    }
  }
  return best;
}

const statement =
  /\b(?:lengths?|dimensions?|distances?|spans?|units?)\b[^.;]{0,40}?\b(?:in|:)\s*(metres|meters|metre|meter|m|mm|millimetres|millimeters|feet|foot|ft)\b/iu;

/** "Lengths in metres" in the title block or a note; null when nothing is said. */
function statedUnit(sheet: SourceSheet, header: FoundHeader): string | null {
  for (const row of sheet.rows) {
    if (row.number >= header.row) break;
    for (const cell of row.cells) {
      const found = statement.exec(normaliseText(cell.text.slice(0, 300)))?.[1]?.toLowerCase();
      if (found === undefined) continue;
      if (found.startsWith('f')) return 'ft';
      return found === 'mm' || found.startsWith('milli') ? 'mm' : 'm';
    }
  }
  return null;
}

/** Inches stand beside feet and millimetres beside metres, but a bare number is of the larger one. */
function bareUnit(unit: string): string {
  if (unit === 'in') return 'ft';
  return unit === 'cm' ? 'm' : unit;
}

function elsewhere(
  read: readonly ReadColumn[],
  evidence: ReadonlyMap<number, Evidence>,
  stated: string | null,
): string | null {
  const headers = new Map<string, number>();
  const cells = new Map<string, number>();
  for (const { id, column, unit } of read) {
    if (columnById(id).kind !== 'length') continue;
    if (unit !== null) headers.set(unit, (headers.get(unit) ?? 0) + 1);
    for (const [name, count] of evidence.get(column)?.units ?? []) {
      cells.set(name, (cells.get(name) ?? 0) + count);
    }
  }
  const found = most(headers) ?? stated ?? most(cells);
  return found === null ? null : bareUnit(found);
}

const impliedUnits: Readonly<Record<string, string>> = {
  voltage: 'V',
  current: 'A',
  leakage: 'mA',
  percent: '%',
};

function unitHabit(
  { id, unit }: ReadColumn,
  own: Evidence | undefined,
  rest: string | null,
  profile: ProfileId,
): Pick<ColumnHabit, 'unit' | 'unitFrom'> {
  if (unit !== null) return { unit, unitFrom: 'header' };
  const { kind } = columnById(id);
  if (kind === 'length') {
    const ownUnit = most(own?.units ?? new Map());
    if (ownUnit !== null) return { unit: bareUnit(ownUnit), unitFrom: 'sheet' };
    if (rest !== null) return { unit: rest, unitFrom: 'sheet' };
    return { unit: profile === 'iec' ? 'm' : 'ft', unitFrom: 'profile' };
  }
  if (kind === 'power') {
    const units = [...(own?.units.keys() ?? [])];
    if (units.length === 0) return { unit: 'W', unitFrom: 'profile' };
    return { unit: 'W', unitFrom: units.every((u) => u === 'W') ? 'sheet' : 'mixed' };
  }
  return { unit: impliedUnits[kind] ?? null, unitFrom: 'implied' };
}

/** Looks over the rows once and settles, column by column, decimal mark and unit of bare numbers. */
export function findHabits(
  sheet: SourceSheet,
  header: FoundHeader,
  read: readonly ReadColumn[],
  profile: ProfileId,
): SheetHabits {
  const rows = sheet.rows.filter((row) => row.number > header.row);
  const evidence = gather(rows, read);
  let commas = 0;
  let dots = 0;
  for (const found of evidence.values()) {
    commas += found.commas;
    dots += found.dots;
  }
  const whole = markOf(commas, dots) ?? 'either';
  const rest = elsewhere(read, evidence, statedUnit(sheet, header));
  const byColumn = new Map<number, ColumnHabit>();
  for (const column of read) {
    const own = evidence.get(column.column);
    const decimal = own === undefined ? whole : (markOf(own.commas, own.dots) ?? whole);
    byColumn.set(column.column, { decimal, ...unitHabit(column, own, rest, profile) });
  }
  const length = rest ?? (profile === 'iec' ? 'm' : 'ft');
  const displayUnit: LengthUnit = ['ft', 'in', 'yd'].includes(unitNamed(length)?.unit ?? '')
    ? 'ft'
    : 'm';
  return { byColumn, displayUnit };
}
