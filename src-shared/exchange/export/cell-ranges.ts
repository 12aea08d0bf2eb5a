import { columnLetters } from '../../document/source-workbook.ts';

/** A cell by row (from 1) and column (from 0). */
export interface CellPlace {
  readonly row: number;
  readonly column: number;
}

/** Cells as short as a person would write them: `H5:H16, K7`. Neighbours below one another join. */
export function cellRanges(cells: readonly CellPlace[]): string {
  const byColumn = new Map<number, number[]>();
  for (const { row, column } of cells) {
    const rows = byColumn.get(column);
    if (rows === undefined) byColumn.set(column, [row]);
    else rows.push(row);
  }
  const ranges: string[] = [];
  for (const [column, rows] of byColumn) {
    const letters = columnLetters(column);
    const sorted = [...new Set(rows)].sort((a, b) => a - b);
    let first = sorted[0] ?? 0;
    sorted.forEach((row, i) => {
      if (sorted[i + 1] === row + 1) return;
      ranges.push(first === row ? `${letters}${row}` : `${letters}${first}:${letters}${row}`);
      first = sorted[i + 1] ?? 0;
    });
  }
  return ranges.join(', ');
}
