/** The order of calculation without the cells that have no formula any more. */
import { parseAddress } from '../cell-address.ts';
import type { PackageEdit } from './package-edit.ts';
import { cellKey } from './sheet-map.ts';
import { localName, type OpenTag, scanXml } from './xml-scan.ts';
import { type Splice, splice, withAttribute } from './xml-write.ts';

/**
 * Takes entries out. An entry without a sheet's number has that of the entry before it (ECMA-376 part
 * 1, 18.6.1), so the next one may have to state it. A chain without entries goes as a whole.
 * @param lost keys of cells by sheet id
 */
export function dropFromChain(
  edit: PackageEdit,
  workbookPart: string,
  lost: ReadonlyMap<number, ReadonlySet<number>>,
): void {
  const link = edit.links(workbookPart).find(({ kind }) => kind === 'calcChain');
  const text = link === undefined ? undefined : edit.text(link.target);
  if (link === undefined || text === undefined) return;
  const splices: Splice[] = [];
  let sheet = 0;
  let written = 0;
  let kept = 0;
  let open: { tag: OpenTag; isLost: boolean } | undefined;
  scanXml(text, edit.where(link.target), {
    open(tag) {
      if (tag.depth !== 2 || localName(tag.name) !== 'c') return;
      sheet = Number(tag.attributes.i ?? sheet);
      const at = parseAddress(tag.attributes.r ?? '');
      const isLost = at !== undefined && lost.get(sheet)?.has(cellKey(at.row, at.column)) === true;
      open = { tag, isLost };
    },
    close(_, __, end, depth) {
      if (depth !== 2 || open === undefined) return;
      const { tag, isLost } = open;
      open = undefined;
      if (isLost) {
        splices.push({ start: tag.start, end, text: '' });
        return;
      }
      kept += 1;
      if (tag.attributes.i === undefined && written !== sheet) {
        const whole = withAttribute(text.slice(tag.start, tag.end), 'i', String(sheet));
        splices.push({ start: tag.start, end: tag.end, text: whole });
      }
      written = sheet;
    },
  });
  if (splices.length === 0) return;
  if (kept > 0) edit.put(link.target, splice(text, splices));
  else {
    edit.removeLink(workbookPart, link.id);
    edit.removeWhole(link.target);
  }
}
