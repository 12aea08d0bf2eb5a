/** A sheet of ours as a new part of a foreign workbook. */
import type { CellContent, ExportTable } from '../../../src-shared/exchange/export/export-table.ts';
import { contentOf, isMarked } from '../../../src-shared/exchange/export/export-table.ts';
import { planningAidSentence } from '../../../src-shared/exchange/export/safety-words.ts';
import { headerRowOf } from '../../../src-shared/exchange/export/schedule-layout.ts';
import type { ProjectSheet } from '../../../src-shared/exchange/project-sheets.ts';
import { sheetNames } from '../../../src-shared/exchange/sheet-names.ts';
import { frozenColumns, lookOf } from '../cell-look.ts';
import { fitColumns, headerHeight, rowHeight } from '../column-fit.ts';
import { looksLikeFormula } from '../stored-text.ts';
import { type PrintFrame, printSetup } from '../write-print-setup.ts';
import type { Dress, StyleBook } from '../write-styles.ts';
import { supportCells, supportWidths } from '../write-support-sheet.ts';
import { cellXml } from './cell-xml.ts';
import { areaText } from './references.ts';
import type { NewNote } from './sheet-notes-edit.ts';
import type { StylesEdit } from './styles-edit.ts';
import { attributeText, elementText } from './xml-write.ts';

interface DraftCell {
  readonly column: number;
  readonly style: Dress;
  readonly content: CellContent;
  readonly quoted: boolean;
}

interface DraftRow {
  readonly number: number;
  /** In points; null: one line. */
  readonly height: number | null;
  readonly cells: readonly DraftCell[];
}

/** A whole sheet, ready to be written. */
export interface SheetDraft {
  readonly rows: readonly DraftRow[];
  readonly widths: readonly number[];
  readonly frozen: { readonly columns: number; readonly rows: number };
  /** Area with filter buttons; null: none. */
  readonly filter: string | null;
  /** Row repeated on every page; null: none. */
  readonly titleRow: number | null;
  readonly notes: readonly NewNote[];
  readonly frame: PrintFrame;
}

const isQuoted = (content: CellContent): boolean =>
  typeof content === 'string' && looksLikeFormula(content);

/** A table of the export as a sheet: title, lead, header, rows. */
export function draftTable(
  table: ExportTable,
  title: string,
  frame: PrintFrame,
  styles: StyleBook,
): SheetDraft {
  const fits = fitColumns(table);
  const headerRow = headerRowOf(table);
  const notes: NewNote[] = [];
  const rows: DraftRow[] = [title, planningAidSentence, ...table.lead].map((content, i) => {
    const style = i === 0 ? styles.title : i === 1 ? styles.quiet : styles.lead;
    const cells = [{ column: 0, style, content, quoted: isQuoted(content) }];
    return { number: i + 1, height: i === 0 ? 22 : null, cells };
  });
  const header = table.columns.map(({ header: content, kind, ink, help }, column): DraftCell => {
    if (help !== null) notes.push({ row: headerRow, column, text: help });
    return { column, style: styles.header(kind, ink), content, quoted: isQuoted(content) };
  });
  rows.push({ number: headerRow, height: headerHeight(table, fits), cells: header });
  table.rows.forEach((line, r) => {
    const number = headerRow + 1 + r;
    const cells = table.columns.map((shown, column): DraftCell => {
      const cell = line[column] ?? null;
      if (isMarked(cell) && cell.note !== null)
        notes.push({ row: number, column, text: cell.note });
      const style = styles.cell(lookOf(shown, cell, fits[column]?.wrap ?? false));
      const content = contentOf(cell);
      return { column, style, content, quoted: isQuoted(content) };
    });
    rows.push({ number, height: rowHeight(line, fits), cells });
  });
  const area = {
    firstRow: headerRow,
    lastRow: headerRow + table.rows.length,
    firstColumn: 0,
    lastColumn: table.columns.length - 1,
  };
  return {
    rows,
    widths: fits.map(({ width }) => width),
    frozen: { columns: frozenColumns(table, fits), rows: headerRow },
    filter: table.rows.length === 0 ? null : areaText(area),
    titleRow: headerRow,
    notes,
    frame,
  };
}

/** A sheet of types, supplies, lines or settings. */
export function draftSupport(
  { name, rows }: ProjectSheet,
  frame: PrintFrame,
  styles: StyleBook,
): SheetDraft {
  const hasHeader = name !== sheetNames.project;
  return {
    rows: rows.map((values, r) => ({
      number: r + 1,
      height: null,
      cells: supportCells(values, r, hasHeader, styles).map(({ column, style, value }) => ({
        column,
        style,
        content: value,
        quoted: isQuoted(value),
      })),
    })),
    widths: supportWidths(rows),
    frozen: { columns: 1, rows: hasHeader ? 1 : 0 },
    filter: null,
    titleRow: hasHeader ? 1 : null,
    notes: [],
    frame,
  };
}

function paneXml({ columns, rows }: SheetDraft['frozen']): string {
  if (columns === 0 && rows === 0) return '';
  const split = `${columns > 0 ? ` xSplit="${columns}"` : ''}${rows > 0 ? ` ySplit="${rows}"` : ''}`;
  const corner = areaText({
    firstRow: rows + 1,
    lastRow: rows + 1,
    firstColumn: columns,
    lastColumn: columns,
  });
  const pane = columns > 0 && rows > 0 ? 'bottomRight' : columns > 0 ? 'topRight' : 'bottomLeft';
  return `<pane${split} topLeftCell="${corner}" activePane="${pane}" state="frozen"/><selection pane="${pane}"/>`;
}

function pageXml(frame: PrintFrame, titleRow: number | null): string {
  const { pageSetup, headerFooter } = printSetup(frame, titleRow);
  const { left, right, top, bottom, header, footer } = pageSetup.margins ?? {
    left: 0.4, right: 0.4, top: 0.7, bottom: 0.65, header: 0.3, footer: 0.3,
  }; // biome-ignore format: one line
  const text = (words: string | undefined) => elementText(words ?? '');
  return `<pageMargins left="${left}" right="${right}" top="${top}" bottom="${bottom}" header="${header}" footer="${footer}"/><pageSetup paperSize="${pageSetup.paperSize}" orientation="landscape" fitToWidth="1" fitToHeight="0"/><headerFooter><oddHeader>${text(headerFooter.oddHeader)}</oddHeader><oddFooter>${text(headerFooter.oddFooter)}</oddFooter></headerFooter>`;
}

/** The sheet's part, but for the link to its notes. */
export function sheetXml(draft: SheetDraft, styles: StylesEdit, mainSpace: string): string {
  const cols = draft.widths.map(
    (width, i) => `<col min="${i + 1}" max="${i + 1}" width="${width}" customWidth="1"/>`,
  );
  const rows = draft.rows.map(({ number, height, cells }) => {
    const high = height === null ? '' : ` ht="${height}" customHeight="1"`;
    const written = cells.map(({ column, style, content, quoted }) =>
      cellXml('', number, column, styles.ownXf(style, quoted), content),
    );
    return `<row r="${number}"${high}>${written.join('')}</row>`;
  });
  const filter = draft.filter === null ? '' : `<autoFilter ref="${attributeText(draft.filter)}"/>`;
  const columns = cols.length === 0 ? '' : `<cols>${cols.join('')}</cols>`;
  return `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<worksheet xmlns="${mainSpace}"><sheetPr><pageSetUpPr fitToPage="1"/></sheetPr><sheetViews><sheetView workbookViewId="0">${paneXml(draft.frozen)}</sheetView></sheetViews><sheetFormatPr defaultRowHeight="15"/>${columns}<sheetData>${rows.join('')}</sheetData>${filter}${pageXml(draft.frame, draft.titleRow)}</worksheet>`;
}
