/** Rows of a csv file that hold more values than its header: a separator within a value has moved them. */
import type { SourceRow } from '../../document/source-workbook.ts';
import { isBlank } from './cell-text.ts';
import type { PlannedFile } from './planned-file.ts';

/**
 * Tells of every row whose values go on behind the last header. Not where most rows do: there a column
 * has no header. A spreadsheet's cells stand where they stand, whatever is in them.
 */
export function tellLongRows({ workbook, parts }: PlannedFile): void {
  if (workbook.kind !== 'csv') return;
  for (const { sheet, header, log } of parts) {
    const last = Math.max(...header.texts.map(({ column }) => column));
    const rows = sheet.rows.filter((row) => row.number > header.row);
    const behind = (row: SourceRow) =>
      row.cells.find((cell) => cell.column > last && !isBlank(cell));
    const long = rows.filter((row) => behind(row) !== undefined);
    if (long.length * 2 > rows.length && rows.length > 1) continue;
    for (const row of long) {
      const cell = behind(row);
      if (cell === undefined) continue;
      const place = { sheet: sheet.name, row: row.number, column: cell.column };
      const note =
        'more values in this row than headers: a separator within a value may have moved those behind it; put quotation marks around that value';
      log.add(place, cell.text, null, null, 'guess', note);
    }
  }
}
