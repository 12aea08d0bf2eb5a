import type { Style, Workbook } from 'exceljs';
import { sheetNames } from '../../src-shared/exchange/sheet-names.ts';
import { looksLikeFormula, storedText } from './stored-text.ts';
import { type PrintFrame, printSetup } from './write-print-setup.ts';
import type { StyleBook } from './write-styles.ts';

type SupportValue = string | number | null;

/** A sheet of plain rows: the first is its header, or, in the project sheet, the first column is. */
export interface SupportSheet {
  readonly name: string;
  readonly rows: readonly (readonly SupportValue[])[];
}

const WIDEST = 46;

/** Width in characters of each column. */
export function supportWidths(rows: SupportSheet['rows']): number[] {
  const widths: number[] = [];
  for (const values of rows) {
    values.forEach((value, c) => {
      const length = value === null ? 0 : String(value).length + 2;
      widths[c] = Math.max(widths[c] ?? 9, Math.min(WIDEST, length));
    });
  }
  return widths;
}

/** The filled cells of row `r`, with their looks. */
export function supportCells(
  values: readonly SupportValue[],
  r: number,
  hasHeader: boolean,
  styles: StyleBook,
): { readonly column: number; readonly style: Partial<Style>; readonly value: string | number }[] {
  const look = { severity: null, letter: false, changed: false, decimals: null } as const;
  return values.flatMap((value, column) => {
    if (value === null) return [];
    const isHead = hasHeader ? r === 0 : column === 0;
    const style = isHead
      ? styles.header('text', 'solved')
      : styles.cell({
          ...look,
          kind: typeof value === 'number' ? 'number' : 'text',
          ink: 'typed',
          wrap: String(value).length > WIDEST,
          guarded: typeof value === 'string' && looksLikeFormula(value),
        });
    return [{ column, style, value }];
  });
}

/** Writes a sheet that carries what the schedule does not. Nothing stands above its header. */
export function writeSupportSheet(
  workbook: Workbook,
  { name, rows }: SupportSheet,
  frame: PrintFrame,
  styles: StyleBook,
): void {
  const hasHeader = name !== sheetNames.project;
  const sheet = workbook.addWorksheet(name, {
    views: [{ state: 'frozen', xSplit: 1, ySplit: hasHeader ? 1 : 0 }],
    ...printSetup(frame, hasHeader ? 1 : null),
  });
  rows.forEach((values, r) => {
    const row = sheet.getRow(r + 1);
    for (const { column, style, value } of supportCells(values, r, hasHeader, styles)) {
      const cell = row.getCell(column + 1);
      cell.value = typeof value === 'string' ? storedText(value) : value;
      cell.style = style;
    }
  });
  supportWidths(rows).forEach((width, c) => {
    sheet.getColumn(c + 1).width = width;
  });
}
