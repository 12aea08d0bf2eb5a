/** Writes one table of the export as a sheet. */
import type { Cell, Workbook, Worksheet } from 'exceljs';
import { columnLetters } from '../../src-shared/document/source-workbook.ts';
import {
  type CellContent,
  type ExportCell,
  type ExportColumn,
  type ExportTable,
  isMarked,
} from '../../src-shared/exchange/export/export-table.ts';
import { planningAidSentence } from '../../src-shared/exchange/export/safety-words.ts';
import { headerRowOf } from '../../src-shared/exchange/export/schedule-layout.ts';
import { type ColumnFit, fitColumns, headerHeight, rowHeight } from './column-fit.ts';
import type { NoteSizes } from './note-boxes.ts';
import { looksLikeFormula, storedText } from './stored-text.ts';
import { type PrintFrame, printSetup } from './write-print-setup.ts';
import type { StyleBook } from './write-styles.ts';

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

function putCell(
  cell: Cell,
  column: ExportColumn,
  content: ExportCell,
  wrap: boolean,
  styles: StyleBook,
): void {
  const marked = isMarked(content) ? content : null;
  const value: CellContent = isMarked(content) ? content.value : content;
  const isNumber = typeof value === 'number';
  if (value !== null) cell.value = typeof value === 'string' ? storedText(value) : value;
  const severity = marked?.severity ?? null;
  cell.style = styles.cell({
    kind: isNumber || (value === null && column.kind === 'number') ? 'number' : 'text',
    ink: column.ink,
    severity,
    letter: column.saysLetter !== true,
    changed: marked?.changed ?? false,
    wrap,
    decimals: isNumber ? shownDecimals(value, column, severity !== null) : column.decimals,
    guarded: typeof value === 'string' && looksLikeFormula(value),
  });
}

/** Columns kept in view: those up to the tag, where that leaves room for the rest. */
function frozenColumns(table: ExportTable, fits: readonly ColumnFit[]): number {
  const tag = table.columns.findIndex((column) => column.columnId === 'tag');
  if (tag < 0) return 0;
  const width = fits.slice(0, tag + 1).reduce((sum, fit) => sum + fit.width, 0);
  return width <= WIDEST_FROZEN ? tag + 1 : 0;
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
