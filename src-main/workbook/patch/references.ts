/** References to cells and areas as formulas and names write them. */
import { columnLetters, type MergedArea } from '../../../src-shared/document/source-workbook.ts';
import { parseArea } from '../cell-address.ts';

/** A sheet's name before a `!`: quoted where a formula needs it. */
export function quotedSheet(name: string): string {
  const looksLikeCell = /^[A-Za-z]{1,3}\d+$/.test(name) || /^[rRcC]\d*([cC]\d*)?$/.test(name);
  const plain = /^[\p{L}_][\p{L}\p{N}_.]*$/u.test(name) && !looksLikeCell;
  return plain ? name : `'${name.replaceAll("'", "''")}'`;
}

/** `A1:C5`, or `A1` for one cell. */
export function areaText(area: MergedArea): string {
  const from = `${columnLetters(area.firstColumn)}${area.firstRow}`;
  const to = `${columnLetters(area.lastColumn)}${area.lastRow}`;
  return from === to ? from : `${from}:${to}`;
}

/** A reference of one sheet taken apart: `'Rev C'!$A$1:$S$62`. */
export interface SheetArea {
  readonly sheet: string;
  readonly area: MergedArea;
}

const sheetPart = /^(?:'((?:[^']|'')+)'|([^'!,]+))!(.+)$/;

/** A single area of a sheet; undefined for anything else, whole rows and columns too. */
export function parseSheetArea(reference: string): SheetArea | undefined {
  const found = sheetPart.exec(reference.trim());
  if (found?.[3] === undefined) return undefined;
  const area = parseArea(found[3].replaceAll('$', ''));
  const sheet = found[1]?.replaceAll("''", "'") ?? found[2] ?? '';
  return area === undefined ? undefined : { sheet, area };
}

/** A list of references cut at its commas; those in quoted names stay. */
export function splitReferences(list: string): string[] {
  return list.match(/(?:'(?:[^']|'')*'|[^,'])+/g) ?? [];
}
