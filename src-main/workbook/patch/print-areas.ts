/** Print areas widened, so that our columns and new rows are printed too. */
import { columnLetters, type MergedArea } from '../../../src-shared/document/source-workbook.ts';
import { SHEET_LAST_ROW } from '../read-limits.ts';
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
 * Widens the area of a sheet that holds its header, to the right the last of several side by side; a
 * sheet without print area prints everything, and an area of whole rows has our columns already.
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
  const parts = splitReferences(name.refersTo).map((part) => ({ part, ...areaOf(part) }));
  const hasHeader = ({ area }: { area?: MergedArea }) =>
    area !== undefined && headerRow >= area.firstRow && headerRow <= area.lastRow;
  const ends = parts.filter(hasHeader).map(({ area }) => area?.lastColumn ?? -1);
  const widened = parts.map((one) => {
    const { part, area, isColumns } = one;
    if (area === undefined || (!hasHeader(one) && parts.length > 1)) return part;
    // Areas side by side are pages side by side: ours are printed with the last.
    const isLast = ends.length === 0 || area.lastColumn === Math.max(...ends);
    const right = isLast ? Math.max(area.lastColumn, lastColumn) : area.lastColumn;
    if (isColumns === true) {
      return `${quotedSheet(sheet)}!$${columnLetters(area.firstColumn)}:$${columnLetters(right)}`;
    }
    const wide = { ...area, lastRow: Math.max(area.lastRow, lastRow), lastColumn: right };
    return absoluteArea(sheet, areaText(wide));
  });
  changeName(edit, workbookPart, PRINT_AREA, place, widened.join(','));
}

/** The area a reference stands for; none for whole rows and for what is no area. */
function areaOf(reference: string): { area?: MergedArea; isColumns?: boolean } {
  const columns = /^(.+!)\$?([A-Z]{1,3}):\$?([A-Z]{1,3})$/i.exec(reference.trim());
  const cells =
    columns === null
      ? reference
      : `${columns[1]}${columns[2]}1:${columns[3]}${SHEET_LAST_ROW}`.toUpperCase();
  const found = parseSheetArea(cells);
  return found === undefined ? {} : { area: found.area, isColumns: columns !== null };
}

/** What the print titles of a sheet of ours refer to. */
export function titleRows(sheet: string, row: number): string {
  return `${quotedSheet(sheet)}!$${row}:$${row}`;
}
