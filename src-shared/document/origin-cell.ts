import type { RowOrigin, ScheduleSource } from './project.ts';
import { cellName } from './source-workbook.ts';

/**
 * `Schedule!K12`; a cell of a further file has the file's name before it, as spreadsheets write
 * links between workbooks: `[install.xlsx]Sheet1!K12`.
 */
export function fileCellName(
  source: Pick<ScheduleSource, 'files'>,
  origin: Pick<RowOrigin, 'file' | 'sheet' | 'row'>,
  column: number,
): string {
  const name = cellName(origin.sheet, origin.row, column);
  return origin.file === 0 ? name : `[${source.files[origin.file]?.fileName ?? ''}]${name}`;
}
