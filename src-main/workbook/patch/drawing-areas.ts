/** What pictures, charts and shapes cover on a sheet. */
import type { MergedArea } from '../../../src-shared/document/source-workbook.ts';
import type { PackageEdit } from './package-edit.ts';
import { attributeOf, localName, scanXml } from './xml-scan.ts';

/** Of a column of usual width (64 pixels) and a row of usual height (15 points), in EMU. */
const COLUMN_EMU = 609_600;
const ROW_EMU = 190_500;

interface Anchor {
  /** Column and row of the corners, from 0. */
  readonly from: [column: number, row: number];
  readonly to: [column: number, row: number];
  kind: string;
}

function areaOf({ from, to }: Anchor): MergedArea {
  return {
    firstColumn: from[0],
    firstRow: from[1] + 1,
    lastColumn: Math.max(from[0], to[0]),
    lastRow: Math.max(from[1], to[1]) + 1,
  };
}

/** Anchors of a drawing part (ECMA-376 part 1, 20.5.2); sizes that are stated in lengths are rounded up. */
function anchorsOf(text: string, where: string): MergedArea[] {
  const areas: MergedArea[] = [];
  const path: string[] = [];
  let anchor: Anchor | undefined;
  let digits = '';
  scanXml(text, where, {
    open: (tag) => {
      const name = localName(tag.name);
      path.push(name);
      digits = '';
      if (name.endsWith('Anchor')) anchor = { from: [0, 0], to: [0, 0], kind: name };
      if (anchor === undefined || name !== 'ext' || !path.at(-2)?.endsWith('Anchor')) return;
      const [wide, high] = ['cx', 'cy'].map((side) => Number(attributeOf(tag, side) ?? 0));
      anchor.to[0] = anchor.from[0] + Math.ceil((wide ?? 0) / COLUMN_EMU);
      anchor.to[1] = anchor.from[1] + Math.ceil((high ?? 0) / ROW_EMU);
    },
    text: (piece) => {
      digits += piece;
    },
    close: (whole) => {
      const name = localName(whole);
      path.pop();
      const corner = path.at(-1);
      if (anchor === undefined) return;
      if ((corner === 'from' || corner === 'to') && (name === 'col' || name === 'row')) {
        anchor[corner][name === 'col' ? 0 : 1] = Number(digits);
      }
      if (!name.endsWith('Anchor')) return;
      areas.push(areaOf(anchor));
      anchor = undefined;
    },
  });
  return areas;
}

/** Areas that the drawings of a sheet cover. */
export function drawingAreas(edit: PackageEdit, sheetPart: string): MergedArea[] {
  return edit.links(sheetPart).flatMap(({ kind, target }) => {
    const text = kind === 'drawing' ? edit.text(target) : undefined;
    return text === undefined ? [] : anchorsOf(text, edit.where(target));
  });
}
