/** Cells of the source files: their names in the report, and what the files have there. */
import { fileCellName } from '../../src-shared/document/origin-cell.ts';
import type { SourceFile } from '../../src-shared/document/project.ts';
import type { SourceCell, SourceWorkbook } from '../../src-shared/document/source-workbook.ts';
import type { CellPlace } from '../../src-shared/exchange/schedule/cell-place.ts';

/** The name the report gives a cell. */
export function nameOf(place: CellPlace, files: readonly SourceFile[]): string {
  return fileCellName({ files }, place, place.column);
}

/** The cell as the file has it; undefined: empty. */
export function cellAt(
  workbooks: readonly SourceWorkbook[],
  { file, sheet, row, column }: CellPlace,
): SourceCell | undefined {
  const rows = workbooks[file]?.sheets.find(({ name }) => name === sheet)?.rows;
  const found = rows?.find(({ number }) => number === row);
  return found?.cells.find((cell) => cell.column === column);
}
