import type { Workbook } from 'exceljs';
import { sheetNames } from '../../src-shared/exchange/sheet-names.ts';
import { looksLikeFormula, storedText } from './stored-text.ts';
import { type PrintFrame, printSetup } from './write-print-setup.ts';
import type { StyleBook } from './write-styles.ts';

/** A sheet of plain rows: the first is its header, or, in the project sheet, the first column is. */
export interface SupportSheet {
  readonly name: string;
  readonly rows: readonly (readonly (string | number | null)[])[];
}

const WIDEST = 46;

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
  const widths: number[] = [];
  const look = { severity: null, letter: false, changed: false, decimals: null } as const;
  rows.forEach((values, r) => {
    const row = sheet.getRow(r + 1);
    values.forEach((value, c) => {
      if (value === null) return;
      const text = String(value);
      widths[c] = Math.max(widths[c] ?? 9, Math.min(WIDEST, text.length + 2));
      const cell = row.getCell(c + 1);
      cell.value = typeof value === 'string' ? storedText(value) : value;
      const isHead = hasHeader ? r === 0 : c === 0;
      cell.style = isHead
        ? styles.header('text', 'solved')
        : styles.cell({
            ...look,
            kind: typeof value === 'number' ? 'number' : 'text',
            ink: 'typed',
            wrap: text.length > WIDEST,
            guarded: typeof value === 'string' && looksLikeFormula(value),
          });
    });
  });
  widths.forEach((width, c) => {
    sheet.getColumn(c + 1).width = width;
  });
}
