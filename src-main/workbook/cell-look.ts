/** How the cells of a table of the export look, whichever way they are written. */
import {
  type ExportCell,
  type ExportColumn,
  type ExportTable,
  isMarked,
} from '../../src-shared/exchange/export/export-table.ts';
import type { ColumnFit } from './column-fit.ts';
import { looksLikeFormula } from './stored-text.ts';
import type { CellLook } from './write-styles.ts';

/** Widest block of columns that is kept in view beside the tag. */
const WIDEST_FROZEN = 30;

function decimalsOf(value: number): number | null {
  const text = String(value);
  if (text.includes('e')) return null;
  const point = text.indexOf('.');
  return point < 0 ? 0 : text.length - point - 1;
}

/** A marked number states its decimals, since `General` does not stand beside a letter everywhere. */
function shownDecimals(value: number, column: ExportColumn, isMarkedCell: boolean): number | null {
  if (column.wholeBare === true && Math.abs(value - Math.round(value)) < 1e-9) return 0;
  return column.decimals ?? (isMarkedCell ? decimalsOf(value) : null);
}

/** The look of a cell of a table's column. */
export function lookOf(column: ExportColumn, content: ExportCell, wrap: boolean): CellLook {
  const marked = isMarked(content) ? content : null;
  const value = isMarked(content) ? content.value : content;
  const isNumber = typeof value === 'number';
  const severity = marked?.severity ?? null;
  return {
    kind: isNumber || (value === null && column.kind === 'number') ? 'number' : 'text',
    ink: column.ink,
    severity,
    letter: column.saysLetter !== true,
    changed: marked?.changed ?? false,
    wrap,
    decimals: isNumber ? shownDecimals(value, column, severity !== null) : column.decimals,
    guarded: typeof value === 'string' && looksLikeFormula(value),
  };
}

/** Columns kept in view: those up to the tag, where that leaves room for the rest. */
export function frozenColumns(table: ExportTable, fits: readonly ColumnFit[]): number {
  const tag = table.columns.findIndex((column) => column.columnId === 'tag');
  if (tag < 0) return 0;
  const width = fits.slice(0, tag + 1).reduce((sum, fit) => sum + fit.width, 0);
  return width <= WIDEST_FROZEN ? tag + 1 : 0;
}
