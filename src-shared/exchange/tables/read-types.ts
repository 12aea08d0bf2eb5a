/** The types legend: from a sheet of that name, or any table with a type column and electrical ones. */
import { blankType } from '../../document/blank.ts';
import type { BreakerMaximum, FixtureType, Mode } from '../../document/project.ts';
import type { SourceRow, SourceSheet } from '../../document/source-workbook.ts';
import { refused, told } from '../schedule/cell-reading.ts';
import { isBlank, looseKey, textOf } from '../schedule/cell-text.ts';
import { headerUnit } from '../schedule/header-words.ts';
import { readCountCell } from '../schedule/read-count-cell.ts';
import {
  readLoadCell,
  wattsFromAmperes,
  wattsFromVoltAmperes,
} from '../schedule/read-load-cell.ts';
import { readPowerFactorCell } from '../schedule/read-power-factor-cell.ts';
import { habitOfUnit, readQuantityCell } from '../schedule/read-quantity-cell.ts';
import type { ReadingLog } from '../schedule/reading-log.ts';
import { readModes } from './mode-words.ts';
import { TableReader } from './table-reader.ts';
import { cellOf, findTable, isTableNote, type TableSheet } from './table-sheet.ts';
import { readWindow, type VoltageWindow } from './window-words.ts';

export type TypeField =
  | 'name'
  | 'description'
  | 'load'
  | 'powerFactor'
  | 'printed'
  | 'absolute'
  | 'printedMin'
  | 'printedMax'
  | 'absoluteMin'
  | 'absoluteMax'
  | 'modes'
  | 'footprint'
  | 'unitLoad'
  | 'leakage';

const words = new Map<TypeField, readonly string[]>([
  ['name', ['type', 'fixture type', 'luminaire type', 'type code', 'type mark', 'type ref', 'type id', 'type no']],
  ['description', ['description', 'desc', 'luminaire', 'fixture', 'details', 'fixture description']],
  ['load', [
    'w max', 'max w', 'w', 'watts', 'watt', 'wattage', 'load', 'power', 'max load', 'max watts', 'watts max',
    'load max', 'max power', 'power max', 'max wattage', 'input power', 'system watts', 'va', 'kw',
  ]],
  ['powerFactor', ['pf', 'p f', 'power factor', 'cos φ', 'cosφ', 'cos phi', 'cos']],
  ['printed', ['printed window', 'input window', 'window', 'voltage range', 'input voltage', 'voltage', 'volts', 'rated voltage', 'v', 'input']],
  ['absolute', ['absolute window', 'absolute range', 'absolute voltage', 'absolute']],
  ['printedMin', ['min v', 'v min', 'min volts', 'minimum voltage', 'min voltage', 'printed min v', 'printed min']],
  ['printedMax', ['max v', 'v max', 'max volts', 'maximum voltage', 'max voltage', 'printed max v', 'printed max']],
  ['absoluteMin', ['absolute min v', 'absolute min', 'abs min v', 'abs min', 'absolute minimum']],
  ['absoluteMax', ['absolute max v', 'absolute max', 'abs max v', 'abs max', 'absolute maximum']],
  ['modes', ['modes', 'mode', 'dmx modes', 'dmx mode', 'control modes', 'personality', 'personalities']],
  ['footprint', ['footprint', 'ch', 'channels', 'dmx ch', 'dmx channels', 'slots', 'dmx footprint', 'channel count']],
  ['unitLoad', ['unit load', 'unit loads', 'ul', 'data load', 'rs485 load', 'eia 485 unit load']],
  ['leakage', ['leakage', 'leakage ma', 'leakage current', 'earth leakage', 'touch current', 'protective conductor current']],
]); // biome-ignore format: a table

/** On a sheet named for types, the key may be headed with weaker words. */
const weakKeys = ['fixture', 'luminaire', 'ref', 'code', 'mark', 'id', 'tag', 'item', 'reference'];
const namedSheets = [
  'types',
  'legend',
  'fixture types',
  'luminaire types',
  'type legend',
  'type schedule',
  'luminaires',
  'fixtures types',
  'luminaire legend',
  'fixture legend',
];
const electrical: readonly TypeField[] = [
  'load',
  'powerFactor',
  'modes',
  'footprint',
  'printed',
  'absolute',
  'printedMin',
  'unitLoad',
  'leakage',
];

const perBreaker = /max.*?\b(?:per|on)\s+(?:a\s+)?(\d+(?:[.,]\d+)?)\s*A\b/iu;

/** Finds a legend on a sheet; null when it holds none. */
export function findTypesTable(sheet: SourceSheet): TableSheet<TypeField> | null {
  const named = namedSheets.includes(looseKey(sheet.name));
  const direct = findTable(sheet, words, 2);
  if (direct?.columns.some((c) => electrical.includes(c.field))) return direct;
  if (!named) return null;
  if (direct !== null || sheet.rows.length === 0) return direct;
  const weak = new Map(words);
  weak.delete('description');
  weak.set('name', [...(words.get('name') ?? []), ...weakKeys]);
  return findTable(sheet, weak, 1);
}

function readLoad(
  reader: TableReader<TypeField>,
  row: SourceRow,
  powerFactor: number | null,
): number | null {
  const cell = cellOf(reader.table, row, 'load');
  if (cell === undefined) return null;
  const header = reader.table.columns.find((c) => c.field === 'load')?.header ?? '';
  const unit = headerUnit(header, ['power', 'current']);
  const habit =
    unit === null ? { ...habitOfUnit('W'), unitFrom: 'profile' as const } : habitOfUnit(unit);
  const read = readLoadCell(cell, habit);
  if (read.kind === 'watts') return reader.tell(row, cell, 'load', read.reading);
  const watts =
    read.kind === 'voltAmperes'
      ? wattsFromVoltAmperes(read.va, powerFactor, read.note)
      : wattsFromAmperes(read.currentA, null, powerFactor, read.note);
  return reader.tell(row, cell, 'load', watts);
}

function readPowerFactor(reader: TableReader<TypeField>, row: SourceRow): number | null {
  const cell = cellOf(reader.table, row, 'powerFactor');
  if (cell === undefined) return null;
  const reading = readPowerFactorCell(cell);
  const fits = reading.value === null || (reading.value > 0 && reading.value <= 1);
  const why = refused('a power factor is over 0 and at most 1');
  return reader.tell(row, cell, 'powerFactor', fits ? reading : why);
}

function readWindows(
  reader: TableReader<TypeField>,
  row: SourceRow,
  whole: TypeField,
  ends: readonly [TypeField, TypeField],
): VoltageWindow {
  const window = reader.parsed(row, whole, 'supply', readWindow) ?? { minV: null, maxV: null };
  const minV = reader.quantity(row, ends[0], 'voltage', 'V', 'supply');
  const maxV = reader.quantity(row, ends[1], 'voltage', 'V', 'supply');
  return { minV: minV ?? window.minV, maxV: maxV ?? window.maxV };
}

function readModesOf(reader: TableReader<TypeField>, row: SourceRow): readonly Mode[] {
  const slots = cellOf(reader.table, row, 'footprint');
  const name = cellOf(reader.table, row, 'modes');
  if (slots === undefined) return reader.parsed(row, 'modes', 'mode', readModes) ?? [];
  const footprint = reader.tell(row, slots, 'footprint', readCountCell(slots, 'footprint'));
  if (footprint === null) return [];
  return [{ name: name === undefined ? `${footprint}ch` : textOf(name), footprint }];
}

function readBreakerMaxima(reader: TableReader<TypeField>, row: SourceRow): BreakerMaximum[] {
  return reader.table.others.flatMap(({ column, header }) => {
    const breakerA = Number((perBreaker.exec(header)?.[1] ?? '').replace(',', '.'));
    const cell = row.cells.find((c) => c.column === column);
    if (!(breakerA > 0) || cell === undefined || isBlank(cell)) return [];
    const fixtures = reader.tell(row, cell, null, readCountCell(cell, 'quantity'));
    return fixtures === null ? [] : [{ breakerA, fixtures }];
  });
}

function readType(reader: TableReader<TypeField>, row: SourceRow, name: string): FixtureType {
  const powerFactor = readPowerFactor(reader, row);
  const printed = readWindows(reader, row, 'printed', ['printedMin', 'printedMax']);
  const absolute = readWindows(reader, row, 'absolute', ['absoluteMin', 'absoluteMax']);
  return {
    ...blankType(name),
    description: reader.text(row, 'description'),
    loadW: readLoad(reader, row, powerFactor),
    powerFactor,
    printedMinV: printed.minV,
    printedMaxV: printed.maxV,
    absoluteMinV: absolute.minV,
    absoluteMaxV: absolute.maxV,
    modes: readModesOf(reader, row),
    unitLoad: readUnitLoad(reader, row),
    leakageMa: reader.quantity(row, 'leakage', 'leakage', 'mA', 'leakage'),
    breakerMaxima: readBreakerMaxima(reader, row),
  };
}

function readUnitLoad(reader: TableReader<TypeField>, row: SourceRow): number | null {
  const cell = cellOf(reader.table, row, 'unitLoad');
  if (cell === undefined) return null;
  const reading = readQuantityCell(cell, 'number', habitOfUnit(null));
  const fits = reading.value === null || reading.value >= 0;
  return reader.tell(
    row,
    cell,
    'unitLoad',
    fits ? reading : refused('a unit load cannot be negative'),
  );
}

/** Adds what a second row says of a type: further modes; anything else only where nothing is known. */
export function joinedType(first: FixtureType, second: FixtureType): FixtureType {
  const modes = [...first.modes];
  for (const mode of second.modes) {
    if (!modes.some((m) => looseKey(m.name) === looseKey(mode.name))) modes.push(mode);
  }
  return {
    ...first,
    description: first.description ?? second.description,
    loadW: first.loadW ?? second.loadW,
    powerFactor: first.powerFactor ?? second.powerFactor,
    printedMinV: first.printedMinV ?? second.printedMinV,
    printedMaxV: first.printedMaxV ?? second.printedMaxV,
    absoluteMinV: first.absoluteMinV ?? second.absoluteMinV,
    absoluteMaxV: first.absoluteMaxV ?? second.absoluteMaxV,
    modes,
    unitLoad: first.unitLoad ?? second.unitLoad,
    leakageMa: first.leakageMa ?? second.leakageMa,
    breakerMaxima: first.breakerMaxima.length > 0 ? first.breakerMaxima : second.breakerMaxima,
  };
}

/** All types of all legends, in order. A type named twice keeps what its first row says. */
export function readTypes(
  tables: readonly TableSheet<TypeField>[],
  log: ReadingLog,
): FixtureType[] {
  const byKey = new Map<string, FixtureType>();
  for (const table of tables) {
    const reader = new TableReader(table, log);
    for (const row of table.rows) {
      const cell = cellOf(table, row, 'name');
      const name = reader.text(row, 'name', 'type');
      if (cell === undefined) reader.tellNameless(row, 'type');
      if (cell === undefined || name === null || isTableNote(name) || reader.isStruck(row))
        continue;
      const type = readType(reader, row, name);
      const first = byKey.get(looseKey(name));
      byKey.set(looseKey(name), first === undefined ? type : joinedType(first, type));
      if (first === undefined) continue;
      const note = `type ${first.name} stands in the legend twice: its first row holds, further modes are added`;
      reader.tell(row, cell, 'type', told(first.name, 'guess', note));
    }
  }
  return [...byKey.values()];
}
