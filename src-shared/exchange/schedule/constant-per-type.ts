/** Whether a column of numbers goes with the type: a footprint does, a start address does not. */
import type { SourceRow } from '../../document/source-workbook.ts';
import { isDitto, looseKey, textOf } from './cell-text.ts';

const sums = /\b(?:sum|subtotal|aggregate|counta?)\s*\(/iu;

/** True when every type that stands twice has one value in the column, a whole number from 1 to 512. */
export function isConstantPerType(
  rows: readonly SourceRow[],
  column: number,
  typeColumn: number | null,
): boolean {
  const first = new Map<string, string>();
  let repeated = false;
  let typeAbove = '';
  for (const row of rows) {
    const written = textOf(row.cells.find((cell) => cell.column === typeColumn));
    if (!isDitto(written)) typeAbove = looseKey(written);
    const type = typeAbove;
    const cell = row.cells.find((c) => c.column === column);
    const number = /^(\d{1,3})\s*(?:ch|chs|slots?)?$/iu.exec(textOf(cell))?.[1];
    if (number === undefined || Number(number) < 1 || Number(number) > 512) continue;
    // A sum is nobody's, nor is the number of a row without a type where the others have one.
    if (sums.test(cell?.formula ?? '') || (typeColumn !== null && type === '')) continue;
    const before = first.get(type);
    if (before === undefined) first.set(type, number);
    else if (before !== number) return false;
    else repeated = true;
  }
  return repeated;
}
