/** Whether two files say the same of a fixture. */
import type { SourceColumnId } from '../../columns/column-table.ts';
import { columnById } from '../../columns/column-table.ts';
import { nameKey } from '../../solve/fixture-facts.ts';
import { looseKey } from '../schedule/cell-text.ts';
import { tagKey } from './tag-key.ts';

/** Rounding of a length written in another unit: 12 ft is 3.66 m. Our own figure, no source. */
const LENGTH_ROUNDING = 0.005;

/** `1,3`, `1, 3` and `1/3` are one circuit. */
function circuitKey(name: string): string {
  return looseKey(name).replace(/\s*[,/+&;]\s*/gu, ',');
}

function near(a: number, b: number, part: number): boolean {
  return Math.abs(a - b) <= part * Math.max(Math.abs(a), Math.abs(b));
}

/** True where two values of a column say the same, in other words or rounded by a change of units. */
export function sameValue(id: SourceColumnId, a: string | number, b: string | number): boolean {
  if (typeof a === 'number' && typeof b === 'number') {
    return near(a, b, columnById(id).kind === 'length' ? LENGTH_ROUNDING : 1e-9);
  }
  const [left, right] = [String(a), String(b)];
  if (id === 'type') return nameKey(left) === nameKey(right);
  if (id === 'circuit') return circuitKey(left) === circuitKey(right);
  if (id === 'fedFrom') return looseKey(left) === looseKey(right) || tagKey(left) === tagKey(right);
  return looseKey(left) === looseKey(right);
}
