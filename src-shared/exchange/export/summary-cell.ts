/** One cell for several fixtures. */
import { formatTrimmed } from '../../units/format-quantity.ts';
import type { CellContent, ExportColumn } from './export-table.ts';

/** Different texts named one by one; more are told by the first and the last. */
const MOST_TEXTS = 4;

const shown = (value: number, decimals: number | null): string =>
  formatTrimmed(value, decimals ?? 3);

/**
 * What several fixtures say in a column: the value they share, else `lo – hi`, else the texts. What
 * is not known of some of them is said.
 */
export function summaryOf(values: readonly CellContent[], column: ExportColumn): CellContent {
  const [first = null] = values;
  if (values.every((value) => value === first)) return first;
  const known = values.filter((value) => value !== null);
  const missing = values.length - known.length;
  const numbers = known.filter((value) => typeof value === 'number');
  const rest = missing === 0 ? '' : `; ${missing} of ${values.length} without`;
  if (numbers.length === known.length) {
    const [low, high] = [Math.min(...numbers), Math.max(...numbers)].map((value) =>
      shown(value, column.decimals),
    );
    return `${low === high ? low : `${low} – ${high}`}${rest}`;
  }
  const texts = [...new Set(known.map(String))];
  const said = texts.length <= MOST_TEXTS ? texts.join(', ') : `${texts[0]} – ${texts.at(-1)}`;
  return `${said}${rest}`;
}
