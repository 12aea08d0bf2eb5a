/** A cell as a lagging power factor. */
import type { SourceCell } from '../../document/source-workbook.ts';
import { type CellReading, told } from './cell-reading.ts';
import { cleanText } from './cell-text.ts';
import { habitOfUnit, readQuantityCell } from './read-quantity-cell.ts';

/** Reads a power factor: a part of one, in percent (told), or with a word for the lagging side. Its range is the caller's to check. */
export function readPowerFactorCell(
  cell: SourceCell,
  habit = habitOfUnit(null),
): CellReading<number> {
  const text = cleanText(cell.text);
  const bare = text.replace(/\s*(?:lag(?:ging)?|ind(?:uctive)?\.?)$/iu, '');
  const percent = /^(\d+(?:[.,]\d+)?)\s*%$/u.exec(bare);
  if (percent?.[1] !== undefined && cell.kind !== 'date') {
    const value = Number(percent[1].replace(',', '.')) / 100;
    return told(typeof cell.value === 'number' ? cell.value : value, 'sure', 'written in percent');
  }
  const used = bare === text ? cell : { ...cell, text: bare, value: bare };
  const reading = readQuantityCell(used, 'number', habit);
  if (reading.value === null || reading.value <= 1 || reading.value > 100) return reading;
  if (reading.value < 10) return reading;
  return told(reading.value / 100, 'guess', `${reading.value} taken as percent`);
}
