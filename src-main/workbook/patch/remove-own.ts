/** The sheets of an earlier export taken out of a workbook that came back. */
import { isOwnName } from './own-traces.ts';
import type { PackageEdit } from './package-edit.ts';
import { removeSheets } from './workbook-edit.ts';
import { mapWorkbook } from './workbook-map.ts';

/** Kinds of parts that belong to one sheet alone. */
const ALONE = new Set(['comments', 'vmlDrawing', 'printerSettings', 'threadedComment']);

/** Removes sheets of ours with their parts, links, content types and names, and all our hidden names. */
export function removeOwnSheets(
  edit: PackageEdit,
  workbookPart: string,
  own: ReadonlySet<string>,
): void {
  const map = mapWorkbook(edit, workbookPart);
  const links = new Map(edit.links(workbookPart).map((link) => [link.id, link.target]));
  for (const { name, linkId } of map.sheets) {
    const part = links.get(linkId);
    if (!own.has(name) || part === undefined) continue;
    for (const { kind, target } of edit.links(part)) {
      if (ALONE.has(kind) && target !== '') edit.removeWhole(target);
    }
    edit.removeWhole(part);
    edit.removeLink(workbookPart, linkId);
  }
  if (own.size > 0 || map.names.some(({ name }) => isOwnName(name))) {
    removeSheets(edit, workbookPart, own, isOwnName);
  }
}
