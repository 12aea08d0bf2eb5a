/** A cell as a quantity in SI units. */
import type { Confidence } from '../../document/project.ts';
import type { SourceCell } from '../../document/source-workbook.ts';
import { normaliseText } from '../../units/normalise-text.ts';
import { type ParsedQuantity, parseQuantity } from '../../units/parse-quantity.ts';
import { type QuantityKind, quantityKinds, toBaseUnit, unitNamed } from '../../units/quantity.ts';
import { type CellReading, lessSure, refused, told } from './cell-reading.ts';
import { cleanText, isDash, whyNoValue } from './cell-text.ts';
import type { ColumnHabit } from './sheet-habits.ts';

/** A quantity read from a cell; `unit` as found in the cell, null where it had none. */
export interface QuantityReading extends CellReading<number> {
  readonly unit: string | null;
}

const COMMA = 'comma read as the decimal mark';
const guessWords = /approximate|typical|average|limit|thousands|behind the feet/u;

const memo = new Map<string, ParsedQuantity>();

function parse(text: string, kind: QuantityKind, habit: ColumnHabit): ParsedQuantity {
  const key = `${kind}|${habit.unit}|${habit.decimal}|${text}`;
  let parsed = memo.get(key);
  if (parsed === undefined) {
    parsed = parseQuantity(text, kind, { defaultUnit: habit.unit, decimal: habit.decimal });
    if (memo.size > 5000) memo.clear();
    memo.set(key, parsed);
  }
  return parsed;
}

/** Notes and confidence of a bare number whose unit was not in its header. */
function unitDoubt(habit: ColumnHabit): { confidence: Confidence; note: string } | null {
  if (habit.unitFrom === 'sheet') {
    return {
      confidence: 'likely',
      note: `no unit: read as ${habit.unit}, as elsewhere in the sheet`,
    };
  }
  if (habit.unitFrom === 'mixed') {
    const note = `no unit in a column of several: taken as ${habit.unit}`;
    return { confidence: 'guess', note };
  }
  if (habit.unitFrom === 'profile') {
    return { confidence: 'guess', note: `no unit anywhere: taken as ${habit.unit}` };
  }
  return null;
}

const LONGEST_BARE_METRES = 1000;
/** Such a length in feet stands as it is; it looks like millimetres all the same. */
const LONGEST_BARE_FEET = 1000;

/** Nobody writes tenths of a millimetre in a schedule, nor a length of a few: common practice, no source. */
const FEWEST_BARE_MM = 10;

/** A bare number that cannot be the millimetres of other cells: metres, told. Null: it can. */
function metresAmongMillimetres(
  value: number,
  kind: QuantityKind,
  { unit, unitFrom }: ColumnHabit,
  before: readonly string[],
): QuantityReading | null {
  if (kind !== 'length' || unit !== 'mm' || unitFrom !== 'sheet' || value <= 0) return null;
  if (value >= FEWEST_BARE_MM && (Number.isInteger(value) || value >= 100)) return null;
  const note = `no unit in the cell: elsewhere in the sheet mm, but not likely here: read as m`;
  return {
    value,
    unit: null,
    confidence: 'guess',
    note: [...before, note].join('; '),
    offer: `${value} mm`,
  };
}

/** A number without unit, in the column's unit. `before` are notes of its reading. */
function bare(
  value: number,
  kind: QuantityKind,
  habit: ColumnHabit,
  before: readonly string[],
): QuantityReading {
  const metres = metresAmongMillimetres(value, kind, habit, before);
  if (metres !== null) return metres;
  const notes = [...before];
  let confidence: Confidence | null =
    before.length === 0 ? null : before.some((n) => guessWords.test(n)) ? 'guess' : 'likely';
  if (kind === 'length' && habit.unit === 'm' && value >= LONGEST_BARE_METRES) {
    const note = 'no unit in the cell: 1000 or more in a metric sheet, read as mm';
    return {
      value: value / 1000,
      unit: null,
      confidence: 'guess',
      note: [...notes, note].join('; '),
    };
  }
  const unit = habit.unit === null ? null : unitNamed(habit.unit);
  const inBase = unit === null ? value : toBaseUnit(value, unit, kind);
  if (kind === 'length' && habit.unit === 'ft' && value >= LONGEST_BARE_FEET) {
    notes.push(`no unit in the cell: read as ft; ${value} may be millimetres`);
    const offer = `${value} mm`;
    return { value: inBase, unit: null, confidence: 'guess', note: notes.join('; '), offer };
  }
  const doubt = habit.unit === null ? null : unitDoubt(habit);
  if (doubt !== null) {
    confidence = lessSure(confidence, doubt.confidence);
    notes.push(doubt.note);
  }
  return { value: inBase, unit: null, confidence, note: notes.join('; ') };
}

/** A stored number; a number format may show a unit (`0.0 "m"`), which then holds. */
function fromNumber(
  cell: SourceCell,
  value: number,
  kind: QuantityKind,
  habit: ColumnHabit,
): QuantityReading {
  if (/[^\d.,+\-−eE\s]/u.test(cell.text)) {
    const shown = parse(cell.text, kind, { ...habit, decimal: 'dot' });
    const unit = shown.ok && shown.unit !== null ? unitNamed(shown.unit) : null;
    if (shown.ok && unit !== null) {
      const inBase = toBaseUnit(value, unit, kind);
      const near = Math.abs(inBase - shown.value) <= 0.06 * Math.max(1, Math.abs(inBase));
      if (near) return foreignUnit(inBase, unit.unit, kind, habit, []);
    }
  }
  return bare(value, kind, habit, []);
}

/** A number whose cell says its unit: told when it is not the column's. */
function foreignUnit(
  value: number,
  unit: string,
  kind: QuantityKind,
  habit: ColumnHabit,
  notes: readonly string[],
): QuantityReading {
  const all = [...notes];
  let confidence: Confidence | null =
    notes.length === 0 ? null : notes.some((n) => guessWords.test(n)) ? 'guess' : 'likely';
  const known = habit.unitFrom === 'header' || habit.unitFrom === 'sheet';
  const expected = known ? habit.unit : null;
  if (expected !== null && expected !== unit && kind !== 'power') {
    confidence = lessSure(confidence, 'sure');
    all.push(`the cell says ${unit}, its column ${expected}`);
  }
  if (unit === 'kW' && expected !== 'kW') {
    confidence = lessSure(confidence, 'sure');
    all.push('kW read as W');
  }
  return { value, unit, confidence, note: all.join('; ') };
}

function withUnit(reading: CellReading<number>): QuantityReading {
  return { ...reading, unit: null };
}

/** `@ 2500 c/c`: a bare number that says it is a spacing. */
const bareSpacing =
  /^@\s*(\d+(?:[.,]\d+)?)$|^@?\s*(\d+(?:[.,]\d+)?)\s*(?:c\s*[/-]\s*c|ctrs?|crs|cent(?:re|er)s?|o\.?\s?c\.?)\.?$/iu;

/** `2 x 8'`, `8'+15'`: several pieces in one cell, as one length; null: the text is none of these. */
function piecesOf(text: string, habit: ColumnHabit): QuantityReading | null {
  const times = /^(\d{1,2})\s*[x×]\s*(.+)$/iu.exec(text);
  const parts = times?.[2] !== undefined ? [times[2]] : text.split('+');
  const count = times?.[1] === undefined ? 1 : Number(times[1]);
  if (count === 0 || (parts.length === 1 && times === null) || parts.length > 20) return null;
  let sum = 0;
  let unit: string | null = null;
  for (const part of parts) {
    const piece = parse(part.trim(), 'length', habit);
    if (!piece.ok || piece.value <= 0 || piece.unit === null) return null;
    const written = unitNamed(piece.unit);
    if (written === null || (unit !== null && unit !== piece.unit)) return null;
    // In the unit as written, so that 8 ft and 15 ft are 23 ft to the last digit.
    sum += Number(written.fromSi(piece.value).toPrecision(12)) * count;
    unit = piece.unit;
  }
  const pieces = times === null ? parts.length : count;
  const written = unit === null ? null : unitNamed(unit);
  if (written === null) return null;
  const note = `${pieces} pieces in one cell, added up`;
  return { value: toBaseUnit(sum, written, 'length'), unit, confidence: 'likely', note };
}

const plainText = /^(?:\d{1,9}|\d{1,6}\.\d{1,2})$/u;

function fromText(text: string, kind: QuantityKind, habit: ColumnHabit): QuantityReading {
  if (plainText.test(text) && (habit.decimal !== 'comma' || !text.includes('.'))) {
    return bare(Number(text), kind, habit, []);
  }
  const spacing = kind === 'length' ? bareSpacing.exec(text) : null;
  if (spacing !== null) return fromText(spacing[1] ?? spacing[2] ?? '', kind, habit);
  const parsed = parse(text, kind, habit);
  const pieces = !parsed.ok && kind === 'length' ? piecesOf(normaliseText(text), habit) : null;
  if (pieces !== null) return pieces;
  if (!parsed.ok) return withUnit(refused(parsed.reason));
  const notes = parsed.notes.filter((note) => !note.startsWith('no unit: read as'));
  if (text.includes(',') && habit.decimal === 'comma' && !notes.some((n) => n.includes('comma'))) {
    notes.push(COMMA);
  }
  if (kind === 'length' && /\d[\s-]+\d+\/\d/u.test(text))
    notes.push('a whole number and a fraction');
  const isFeetInches =
    kind === 'length' && parsed.unit === 'ft' && /["”″]|\bin|'.*\d/u.test(normaliseText(text));
  if (isFeetInches) {
    const reading = foreignUnit(parsed.value, 'ft', kind, habit, notes);
    return {
      ...reading,
      confidence: lessSure(reading.confidence, 'sure'),
      note: ['feet and inches', ...(reading.note === '' ? [] : [reading.note])].join('; '),
    };
  }
  if (parsed.unit !== null) return foreignUnit(parsed.value, parsed.unit, kind, habit, notes);
  const implied = notes.some((n) => /phase|line to/u.test(n));
  if (implied || kind === 'number') {
    const confidence: Confidence | null = notes.length === 0 ? null : 'likely';
    return { value: parsed.value, unit: null, confidence, note: notes.join('; ') };
  }
  // The parser has applied the column's unit: back to the number as written.
  const unit = habit.unit === null ? null : unitNamed(habit.unit);
  const base = quantityKinds[kind].baseUnit;
  const written =
    unit === null || base === unit.unit
      ? parsed.value
      : unit.fromSi(unitNamed(base ?? '')?.toSi(parsed.value) ?? parsed.value);
  const again = bare(Number(written.toPrecision(12)), kind, habit, notes);
  // Not through the number again where nothing was decided: no digit is lost.
  return /read as (?:mm|m)$/u.test(again.note) ? again : { ...again, value: parsed.value };
}

/** The odd cells every reader refuses alike; null when the cell holds a number or text. */
export function refuseOddCell(cell: SourceCell): CellReading<never> | null {
  const why = whyNoValue(cell);
  if (why !== null) return refused(why);
  if (cell.kind === 'boolean') return refused('the cell holds true or false, not a number');
  if (cell.kind === 'date') {
    return refused(`the cell holds a date (${cleanText(cell.text)}); what was typed is lost`);
  }
  return null;
}

/**
 * Reads a cell as a quantity of `kind`, in its base unit (m, W, A, V, mA, plain number). Plain where
 * cell or header say the unit and nothing was decided; null with `refused` where it cannot be read.
 */
export function readQuantityCell(
  cell: SourceCell,
  kind: QuantityKind,
  habit: ColumnHabit,
): QuantityReading {
  const odd = refuseOddCell(cell);
  if (odd !== null) return withUnit(odd);
  if (typeof cell.value === 'number') return fromNumber(cell, cell.value, kind, habit);
  const text = cleanText(cell.text);
  if (isDash(text)) return withUnit(told<number>(null, 'sure', 'a dash: nothing stated'));
  return fromText(text, kind, habit);
}

/** Habit of a column about which nothing is known but its unit. */
export function habitOfUnit(unit: string | null): ColumnHabit {
  return { decimal: 'either', unit, unitFrom: unit === null ? 'implied' : 'header' };
}
