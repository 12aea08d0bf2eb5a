import {
  type CellContent,
  contentOf,
  type ExportCell,
  type ExportTable,
  isMarked,
  type MarkedCell,
} from '../../src-shared/exchange/export/export-table.ts';

function placeOf(table: ExportTable, header: string): number {
  const place = table.columns.findIndex((column) => column.header === header);
  if (place < 0) {
    throw new Error(`no column ${header} among ${table.columns.map((c) => c.header).join(' | ')}`);
  }
  return place;
}

/** The cell under `header` in the row whose cell under `by` is `key`. */
export function cellAt(
  table: ExportTable,
  by: string,
  key: CellContent,
  header: string,
): ExportCell {
  const at = placeOf(table, by);
  const row = table.rows.find((cells) => contentOf(cells[at] ?? null) === key);
  if (row === undefined) throw new Error(`no row with ${by} ${key}`);
  return row[placeOf(table, header)] ?? null;
}

export function valueAt(
  table: ExportTable,
  by: string,
  key: CellContent,
  header: string,
): CellContent {
  return contentOf(cellAt(table, by, key, header));
}

/** The mark of a cell; one that says nothing where the cell is not marked. */
export function markAt(
  table: ExportTable,
  by: string,
  key: CellContent,
  header: string,
): MarkedCell {
  const cell = cellAt(table, by, key, header);
  return isMarked(cell) ? cell : { value: cell, severity: null, changed: false, note: null };
}

export const headersOf = (table: ExportTable): string[] => table.columns.map((c) => c.header);

export function columnOf(table: ExportTable, header: string): CellContent[] {
  const place = placeOf(table, header);
  return table.rows.map((cells) => contentOf(cells[place] ?? null));
}

/** Everything a table says, one text. */
export function wordsOf(table: ExportTable): string {
  const cells = table.rows.flatMap((row) =>
    row.map((cell) => `${contentOf(cell)} ${isMarked(cell) ? cell.note : ''}`),
  );
  return [table.name, ...table.lead, ...headersOf(table), ...cells].join('\n');
}
