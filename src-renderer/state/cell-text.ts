/** What a cell of the schedule shows and what an editor starts with. Units as the job shows them. */
import { type ColumnId, columnById } from '../../src-shared/columns/column-table.ts';
import { fixtureFieldOf, statementFieldOf } from '../../src-shared/document/cell-fields.ts';
import { cableSoFarM, dropPct, type LevelResult } from '../../src-shared/solve/run-result.ts';
import {
  formatLength,
  formatNumber,
  formatTrimmed,
} from '../../src-shared/units/format-quantity.ts';
import type { LengthUnit } from '../../src-shared/units/length.ts';
import type { FixtureRow } from './row-model.ts';

export type CellContent = string | number | null;

/** Where a shown value comes from: it decides the ink. */
export type CellOrigin = 'typed' | 'from-type' | 'from-run' | 'from-stock' | 'proposed' | 'solved';

function at(
  level: LevelResult | null | undefined,
  key: 'voltsV' | 'currentA' | 'cumulativeA' | 'throughA',
  index: number,
): number | null {
  return index < 0 ? null : (level?.[key][index] ?? null);
}

function runContent(row: FixtureRow, column: ColumnId): CellContent {
  const statement = statementFieldOf[column];
  const stated = statement === undefined ? undefined : row.facts.fixture.differing?.[statement];
  if (stated !== undefined) return stated;
  const { run } = row;
  if (run === null) return null;
  switch (column) {
    case 'supply':
      return run.supplyV;
    case 'line':
      return run.line?.name ?? run.run.line;
    case 'conductor':
      return run.run.conductor;
    case 'homeRun':
      return run.run.homeRunM;
    case 'leadIn':
      return run.run.leadInM ?? run.spanM[0] ?? null;
    case 'panel':
      return run.circuit.panel;
    case 'circuit':
      return run.circuit.name;
    case 'breaker':
      return run.circuit.breakerA;
    case 'protection':
      return run.circuit.protection;
    default:
      return null;
  }
}

function solvedContent(row: FixtureRow, column: ColumnId): CellContent {
  const { run, index } = row;
  const nominal = run?.nominal;
  switch (column) {
    case 'current':
      return at(nominal, 'currentA', index);
    case 'cumulativeCurrent':
      return at(nominal, 'cumulativeA', index);
    case 'throughCurrent':
      return at(nominal, 'throughA', index);
    case 'voltsHere':
      return at(nominal, 'voltsV', index);
    case 'voltsLow':
      return at(run?.low, 'voltsV', index);
    case 'voltsHigh':
      return at(run?.high, 'voltsV', index);
    case 'drop':
      return nominal === null || nominal === undefined || index < 0
        ? null
        : dropPct(nominal, index);
    case 'cableSoFar':
      return index < 0 ? null : row.run === null ? null : cableSoFarM(row.run, row.index);
    case 'lastAddress':
      return row.slot?.lastAddress ?? null;
    case 'rowId':
      return row.id;
    case 'locks':
      return row.facts.fixture.locks.join(', ') || null;
    default:
      return null;
  }
}

/** The value of a cell in SI, with the type and the run applied; null: nothing known. */
export function cellContent(row: FixtureRow, column: ColumnId): CellContent {
  const { facts, run, index, slot } = row;
  switch (column) {
    case 'load':
      return facts.loadW;
    case 'powerFactor':
      return facts.powerFactor;
    case 'unitLoad':
      return facts.unitLoad;
    case 'leakage':
      return facts.leakageMa;
    case 'footprint':
      return facts.footprint;
    case 'universe':
      return slot?.universe ?? facts.fixture.universe;
    case 'address':
      return slot?.address ?? facts.fixture.address;
    case 'span':
      return index < 0 ? facts.fixture.spanM : (run?.spanM[index] ?? null);
    case 'installed':
      return index < 0 ? facts.fixture.installedM : (run?.installedM[index] ?? null);
    default:
  }
  const field = fixtureFieldOf[column];
  if (field !== undefined) return facts.fixture[field];
  const { scope } = columnById(column);
  if (scope === 'run' || scope === 'circuit') return runContent(row, column);
  return solvedContent(row, column);
}

/** Typed here, taken from the type or the run, proposed or solved. */
export function cellOrigin(row: FixtureRow, column: ColumnId): CellOrigin {
  const { edit, scope } = columnById(column);
  if (edit === 'solved') return 'solved';
  const { fixture } = row.facts;
  if (scope === 'run' || scope === 'circuit') return row.index === 0 ? 'typed' : 'from-run';
  if (column === 'universe' || column === 'address') {
    return fixture[column] === null && row.slot?.proposed === true ? 'proposed' : 'typed';
  }
  if (column === 'installed') return fixture.installedM === null ? 'from-stock' : 'typed';
  const fromType = ['load', 'powerFactor', 'unitLoad', 'leakage', 'footprint'].includes(column);
  const field = fixtureFieldOf[column];
  return fromType && field !== undefined && fixture[field] === null ? 'from-type' : 'typed';
}

/** A value as the grid shows it: figures with the column's decimals, lengths with their unit. */
export function showContent(value: CellContent, column: ColumnId, unit: LengthUnit): string {
  if (value === null) return '';
  if (typeof value === 'string') return value;
  const { kind, decimals, edit } = columnById(column);
  switch (kind) {
    case 'length':
      return formatLength(value, unit);
    case 'percent':
      return `${formatNumber(value, decimals ?? 2)} %`;
    case 'unitLoad':
      return shownFraction(value);
    default:
      return edit === 'solved'
        ? formatNumber(value, decimals ?? 2)
        : formatTrimmed(
            value,
            Math.max(decimals ?? 2, kind === 'voltage' || kind === 'current' ? 2 : 0),
          );
  }
}

const fractions: readonly (readonly [number, string])[] = [
  [1 / 2, '1/2'],
  [1 / 4, '1/4'],
  [1 / 8, '1/8'],
];

/** Unit loads are written as fractions in data sheets: 1/8, 1/4, 1/2. */
function shownFraction(value: number): string {
  const known = fractions.find(([size]) => Math.abs(size - value) < 1e-9);
  return known?.[1] ?? formatTrimmed(value, 3);
}

/** The text of a cell. Start and last address stand together, as a patch sheet has them. */
export function cellText(row: FixtureRow, column: ColumnId, unit: LengthUnit): string {
  const text = showContent(cellContent(row, column), column, unit);
  const last = row.slot?.lastAddress ?? null;
  if (column === 'address' && text !== '' && last !== null) {
    return String(last) === text ? text : `${text}–${last}`;
  }
  return text;
}

/** What an editor starts with: only what was typed for this cell, with its unit. */
export function editText(row: FixtureRow, column: ColumnId, unit: LengthUnit): string {
  const value = cellContent(row, column);
  if (typeof value !== 'number') return value ?? '';
  if (columnById(column).kind === 'length') return formatLength(value, unit, 4);
  return columnById(column).kind === 'unitLoad' ? shownFraction(value) : formatTrimmed(value, 6);
}
