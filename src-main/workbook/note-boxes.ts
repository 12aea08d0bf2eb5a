/** Sizes of note boxes, so that a finding can be read without dragging a corner. */
import { linesOf } from './column-fit.ts';

/** Characters of a line in a note's box. */
export const NOTE_BOX_CHARACTERS = 62;
const BOX_WIDTH_PX = 400;
const LINE_PX = 15;
const ROW_PX = 18;
/** A column of Calibri 11 is about seven pixels a character and five beside. */
const columnPixels = (width: number) => Math.round(width * 7 + 5);

/** Lines of every note by sheet and cell, row counted from 1, column from 0. */
export class NoteSizes {
  private readonly lines = new Map<number, Map<string, number>>();

  add(sheetId: number, row: number, column: number, text: string): void {
    let sheet = this.lines.get(sheetId);
    if (sheet === undefined) {
      sheet = new Map();
      this.lines.set(sheetId, sheet);
    }
    sheet.set(`${row},${column}`, linesOf(text, NOTE_BOX_CHARACTERS));
  }

  linesAt(sheetId: number, row: number, column: number): number {
    return this.lines.get(sheetId)?.get(`${row},${column}`) ?? 4;
  }
}

/**
 * Corners of a note's box as VML writes them (left column and pixels in it, top row, right, bottom):
 * beside its cell, wide and high enough for its lines.
 */
export function noteAnchor(
  row: number,
  column: number,
  lines: number,
  widths: readonly number[],
): string {
  let right = column + 1;
  let left = BOX_WIDTH_PX;
  while (left > columnPixels(widths[right] ?? 9)) {
    left -= columnPixels(widths[right] ?? 9);
    right += 1;
  }
  const height = lines * LINE_PX + 12;
  const top = Math.max(row - 2, 0);
  const rows = Math.floor(height / ROW_PX);
  return [column + 1, 8, top, 6, right, left, top + rows, height - rows * ROW_PX].join(', ');
}
