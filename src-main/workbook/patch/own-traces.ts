/** What an earlier export left in a workbook: sheets, columns, looks of marked cells. */
import type { MergedArea } from '../../../src-shared/document/source-workbook.ts';
import { ownSheetOf } from '../../../src-shared/exchange/sheet-names.ts';
import type { PackageEdit } from './package-edit.ts';
import { parseSheetArea } from './references.ts';
import { mapSheet } from './sheet-map.ts';
import type { WorkbookMap } from './workbook-map.ts';

/** Hidden names that mark what is ours; programs keep them true when sheets are renamed or moved. */
export const SHEET_NAME_MARK = 'Runledger.sheet.';
export const COLUMNS_NAME_MARK = 'Runledger.columns.';

/** Sheet with samples of the looks marked cells have and had. */
export const LOOKS_SHEET = 'Runledger looks';

export function isOwnName(name: string): boolean {
  return name.startsWith(SHEET_NAME_MARK) || name.startsWith(COLUMNS_NAME_MARK);
}

/** The hidden name of a sheet of ours. */
export function markOfSheet(name: string): string {
  return `${SHEET_NAME_MARK}${(ownSheetOf(name) ?? name).replace(/[^A-Za-z0-9]+/g, '_')}`;
}

export interface OwnTraces {
  /** Names of sheets of ours. */
  readonly sheets: ReadonlySet<string>;
  /** Areas of our columns by sheet, header included. */
  readonly columns: ReadonlyMap<string, MergedArea>;
  /** Looks of marked cells and what they were before. */
  readonly looks: ReadonlyMap<number, number>;
}

/** Finds the traces by their hidden names. */
export function findTraces(edit: PackageEdit, map: WorkbookMap): OwnTraces {
  const sheets = new Set<string>();
  const columns = new Map<string, MergedArea>();
  let looksSheet: string | undefined;
  const there = new Set(map.sheets.map((sheet) => sheet.name));
  for (const { name, refersTo } of map.names) {
    if (!isOwnName(name)) continue;
    const found = parseSheetArea(refersTo);
    if (found === undefined || !there.has(found.sheet)) continue;
    if (name.startsWith(COLUMNS_NAME_MARK)) columns.set(found.sheet, found.area);
    else {
      sheets.add(found.sheet);
      if (name === markOfSheet(LOOKS_SHEET)) looksSheet = found.sheet;
    }
  }
  return { sheets, columns, looks: looksOf(edit, map, looksSheet) };
}

/** Pairs of looks: that of a marked cell in column A, that of the cell before in column B. */
function looksOf(
  edit: PackageEdit,
  map: WorkbookMap,
  sheet: string | undefined,
): Map<number, number> {
  const looks = new Map<number, number>();
  const entry = map.sheets.find((one) => one.name === sheet);
  if (entry === undefined) return looks;
  const part = edit.links(map.part).find((link) => link.id === entry.linkId)?.target ?? '';
  const text = edit.text(part);
  if (text === undefined) return looks;
  const { cells, rows } = mapSheet(text, part, edit.where(part));
  for (let place = 0; place < rows.number.length; place += 1) {
    const first = rows.firstCell.at(place);
    const end =
      place + 1 === rows.number.length ? cells.column.length : rows.firstCell.at(place + 1);
    let [marked, before] = [0, 0];
    let known = false;
    for (let cell = first; cell < end; cell += 1) {
      const style = Math.max(0, cells.style.at(cell));
      if (cells.column.at(cell) === 0) marked = style;
      if (cells.column.at(cell) === 1) {
        before = style;
        known = true;
      }
    }
    if (known && marked !== before) looks.set(marked, before);
  }
  return looks;
}
