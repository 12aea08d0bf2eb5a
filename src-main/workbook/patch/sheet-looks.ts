/** The look a cell of a foreign sheet has, and widths of its columns. */
import { cellKey, type SheetMap, sectionOf } from './sheet-map.ts';

/** Looks of cells by key, found once; a cell that is not there has that of its row or column. */
export class SheetLooks {
  private readonly byCell = new Map<number, number>();
  private readonly byRow = new Map<number, number>();
  private readonly map: SheetMap;

  /** @param restored looks of cells marked by an earlier export, and what they were before */
  constructor(map: SheetMap, wanted: ReadonlySet<number>, restored: ReadonlyMap<number, number>) {
    this.map = map;
    const { rows, cells, text } = map;
    for (let place = 0; place < rows.number.length; place += 1) {
      const row = rows.number.at(place);
      const behind =
        place + 1 === rows.number.length ? cells.column.length : rows.firstCell.at(place + 1);
      if (!wanted.has(row)) continue;
      const tag = text.slice(rows.start.at(place), rows.tagEnd.at(place));
      const own = /\ss\s*=\s*["'](\d+)["']/.exec(tag)?.[1];
      const isOwn = /\scustomFormat\s*=\s*["'](1|true)["']/.test(tag);
      if (own !== undefined && isOwn) this.byRow.set(row, Number(own));
      for (let cell = rows.firstCell.at(place); cell < behind; cell += 1) {
        const style = Math.max(0, cells.style.at(cell));
        const before = restored.get(style) ?? style;
        this.byCell.set(cellKey(row, cells.column.at(cell)), before);
      }
    }
  }

  at(row: number, column: number): number {
    const own = this.byCell.get(cellKey(row, column)) ?? this.byRow.get(row);
    if (own !== undefined) return own;
    const col = this.map.cols.find(({ first, last }) => column >= first && column <= last);
    return Number(col?.attributes.style ?? 0);
  }
}

/** Height a row states, in points; null: none. */
export function statedHeight(map: SheetMap, row: number): number | null {
  const { rows, text } = map;
  for (let place = 0; place < rows.number.length; place += 1) {
    if (rows.number.at(place) !== row) continue;
    const tag = text.slice(rows.start.at(place), rows.tagEnd.at(place));
    const height = /\sht\s*=\s*["']([\d.]+)["']/.exec(tag)?.[1];
    return height === undefined ? null : Number(height);
  }
  return null;
}

const USUAL_WIDTH = 9;

/** Widths of the first `count` columns in characters; 0 for a hidden one. */
export function columnWidths(map: SheetMap, count: number): number[] {
  const format = sectionOf(map, 'sheetFormatPr')?.attributes;
  const usual = Number(format?.defaultColWidth ?? USUAL_WIDTH);
  const widths = Array.from({ length: count }, () => usual);
  for (const { first, last, attributes } of map.cols) {
    const isHidden = /^(1|true|on)$/i.test(attributes.hidden ?? '');
    const width = isHidden ? 0 : Number(attributes.width ?? usual);
    for (let column = first; column <= Math.min(last, count - 1); column += 1) {
      widths[column] = width;
    }
  }
  return widths;
}
