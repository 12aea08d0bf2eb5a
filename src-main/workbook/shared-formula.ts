import { columnLetters } from '../../src-shared/document/source-workbook.ts';
import { type CellAddress, columnOf } from './cell-address.ts';
import { SHEET_LAST_COLUMN, SHEET_LAST_ROW } from './read-limits.ts';

// Quoted text and quoted sheet names are skipped whole, to the end when the closing quote is missing; then A1, $A:B and 1:$3 outside of words.
const PIECE =
  /"(?:[^"]|"")*"?|'(?:[^']|'')*'?|(?<![\p{L}\p{N}_.\\$])(\$?)([A-Za-z]{1,3})(\$?)([0-9]{1,7})(?![\p{L}\p{N}_.(!])|(?<![\p{L}\p{N}_.\\$])(\$?)([A-Za-z]{1,3}):(\$?)([A-Za-z]{1,3})(?![\p{L}\p{N}_.(!$])|(?<![\p{L}\p{N}_.\\$])(\$?)([0-9]{1,7}):(\$?)([0-9]{1,7})(?![\p{L}\p{N}_.(!])/gu;

function movedColumn(fixed: string, letters: string, by: number): string | undefined {
  if (fixed !== '') return fixed + letters;
  const column = columnOf(letters);
  if (column === undefined) return letters;
  const moved = column + by;
  return moved < 0 || moved > SHEET_LAST_COLUMN ? undefined : columnLetters(moved);
}

function movedRow(fixed: string, digits: string, by: number): string | undefined {
  if (fixed !== '') return fixed + digits;
  const moved = Number(digits) + by;
  return moved < 1 || moved > SHEET_LAST_ROW ? undefined : String(moved);
}

/**
 * The formula of a follower in a shared group, from that of the group's first cell: references
 * without `$` move along. Source: ECMA-376 part 1, 18.3.1.40 (f, shared formulas).
 * A reference that would leave the sheet becomes `#REF!`.
 */
export function moveFormula(formula: string, from: CellAddress, to: CellAddress): string {
  const columns = to.column - from.column;
  const rows = to.row - from.row;
  const joined = (first: string | undefined, link: string, second: string | undefined) =>
    first === undefined || second === undefined ? '#REF!' : first + link + second;
  return formula.replace(PIECE, (whole: string, ...groups: (string | undefined)[]) => {
    const [c$, cell, r$, row, fromC$, fromC, toC$, toC, fromR$, fromR, toR$, toR] = groups;
    if (cell !== undefined && row !== undefined) {
      return joined(movedColumn(c$ ?? '', cell, columns), '', movedRow(r$ ?? '', row, rows));
    }
    if (fromC !== undefined && toC !== undefined) {
      const first = movedColumn(fromC$ ?? '', fromC, columns);
      return joined(first, ':', movedColumn(toC$ ?? '', toC, columns));
    }
    if (fromR !== undefined && toR !== undefined) {
      return joined(movedRow(fromR$ ?? '', fromR, rows), ':', movedRow(toR$ ?? '', toR, rows));
    }
    return whole;
  });
}
