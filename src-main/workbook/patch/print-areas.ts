/** Print areas widened, so that our columns and new rows are printed too. */
import type { PackageEdit } from './package-edit.ts';
import { areaText, parseSheetArea, quotedSheet, splitReferences } from './references.ts';
import { absoluteArea, changeName } from './workbook-edit.ts';
import { mapWorkbook } from './workbook-map.ts';

const PRINT_AREA = '_xlnm.Print_Area';

export interface Printed {
  readonly headerRow: number;
  readonly lastRow: number;
  readonly lastColumn: number;
}

/**
 * Widens the area of a sheet that holds its header; a sheet without print area prints everything, and
 * an area of whole rows has our columns already.
 */
export function widenPrintArea(
  edit: PackageEdit,
  workbookPart: string,
  sheet: string,
  { headerRow, lastRow, lastColumn }: Printed,
): void {
  const map = mapWorkbook(edit, workbookPart);
  const place = map.sheets.findIndex((one) => one.name === sheet);
  const name = map.names.find((n) => n.name === PRINT_AREA && n.localSheet === place);
  if (name === undefined) return;
  const parts = splitReferences(name.refersTo);
  const widened = parts.map((part) => {
    const found = parseSheetArea(part);
    if (found === undefined) return part;
    const { area } = found;
    const holdsHeader = headerRow >= area.firstRow && headerRow <= area.lastRow;
    if (!holdsHeader && parts.length > 1) return part;
    const wide = {
      ...area,
      lastRow: Math.max(area.lastRow, lastRow),
      lastColumn: Math.max(area.lastColumn, lastColumn),
    };
    return absoluteArea(found.sheet, areaText(wide));
  });
  changeName(edit, workbookPart, PRINT_AREA, place, widened.join(','));
}

/** What the print titles of a sheet of ours refer to. */
export function titleRows(sheet: string, row: number): string {
  return `${quotedSheet(sheet)}!$${row}:$${row}`;
}
