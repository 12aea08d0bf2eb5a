/** Writes one table of the export as a sheet. */
import type { Cell, Workbook, Worksheet } from 'exceljs';
import { columnLetters } from '../../src-shared/document/source-workbook.ts';
import {
  contentOf,
  type ExportCell,
  type ExportColumn,
  type ExportTable,
  isMarked,
} from '../../src-shared/exchange/export/export-table.ts';
import { planningAidSentence } from '../../src-shared/exchange/export/safety-words.ts';
import { headerRowOf } from '../../src-shared/exchange/export/schedule-layout.ts';
import { frozenColumns, lookOf } from './cell-look.ts';
import { fitColumns, headerHeight, rowHeight } from './column-fit.ts';
import type { NoteSizes } from './note-boxes.ts';
import { storedText } from './stored-text.ts';
import { type PrintFrame, printSetup } from './write-print-setup.ts';
import type { StyleBook } from './write-styles.ts';

function putCell(
  cell: Cell,
  column: ExportColumn,
  content: ExportCell,
  wrap: boolean,
  styles: StyleBook,
): void {
  const value = contentOf(content);
  if (value !== null) cell.value = typeof value === 'string' ? storedText(value) : value;
  cell.style = styles.cell(lookOf(column, content, wrap));
}

function putLead(sheet: Worksheet, title: string, table: ExportTable, styles: StyleBook): void {
  const lines = [title, planningAidSentence, ...table.lead];
  lines.forEach((line, i) => {
    const cell = sheet.getCell(i + 1, 1);
    cell.value = storedText(line);
    cell.style = i === 0 ? styles.title : i === 1 ? styles.quiet : styles.lead;
  });
  sheet.getRow(1).height = 22;
}

/** Adds the sheet; `name` is legal and free already. Sizes of its notes go to `notes`. */
export function writeTable(
  workbook: Workbook,
  name: string,
  title: string,
  table: ExportTable,
  frame: PrintFrame,
  styles: StyleBook,
  notes: NoteSizes,
): void {
  const fits = fitColumns(table);
  const headerRow = headerRowOf(table);
  const sheet = workbook.addWorksheet(name, {
    views: [{ state: 'frozen', xSplit: frozenColumns(table, fits), ySplit: headerRow }],
    ...printSetup(frame, headerRow),
  });
  fits.forEach(({ width }, i) => {
    sheet.getColumn(i + 1).width = width;
  });
  putLead(sheet, title, table, styles);
  const header = sheet.getRow(headerRow);
  header.height = headerHeight(table, fits);
  table.columns.forEach((column, i) => {
    const cell = header.getCell(i + 1);
    cell.value = storedText(column.header);
    cell.style = styles.header(column.kind, column.ink);
    if (column.help !== null) putNote(cell, column.help, sheet, i, headerRow, notes);
  });
  table.rows.forEach((cells, r) => {
    const rowNumber = headerRow + 1 + r;
    const row = sheet.getRow(rowNumber);
    const height = rowHeight(cells, fits);
    if (height !== null) row.height = height;
    table.columns.forEach((column, i) => {
      const content = cells[i] ?? null;
      const cell = row.getCell(i + 1);
      putCell(cell, column, content, fits[i]?.wrap ?? false, styles);
      if (isMarked(content) && content.note !== null) {
        putNote(cell, content.note, sheet, i, rowNumber, notes);
      }
    });
  });
  const last = `${columnLetters(table.columns.length - 1)}${headerRow + table.rows.length}`;
  if (table.rows.length > 0) sheet.autoFilter = `A${headerRow}:${last}`;
}

function putNote(
  cell: Cell,
  text: string,
  sheet: Worksheet,
  column: number,
  row: number,
  notes: NoteSizes,
): void {
  cell.note = { texts: [{ font: { name: 'Arial', size: 9 }, text: storedText(text) }] };
  notes.add(sheet.id, row, column, text);
}
