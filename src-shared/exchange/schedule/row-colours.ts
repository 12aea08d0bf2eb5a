/** Rows in the colour of a revision: read like the others, and told. */
import type { SourceRow } from '../../document/source-workbook.ts';
import { isBlank } from './cell-text.ts';
import type { PartRows } from './part-rows.ts';

/** Part of a row's filled cells that have the colour. */
const MOST_OF_A_ROW = 0.5;
/** A colour that more of the rows have is the look of the sheet. */
const MOST_OF_A_SHEET = 0.5;

/** The colour that more than half of a row's filled cells have; null: none. */
function colourOf(row: SourceRow): string | null {
  const filled = row.cells.filter((cell) => !isBlank(cell));
  const counts = new Map<string, number>();
  for (const { colour } of filled) {
    if (colour !== undefined) counts.set(colour, (counts.get(colour) ?? 0) + 1);
  }
  for (const [colour, count] of counts) if (count > filled.length * MOST_OF_A_ROW) return colour;
  return null;
}

/** One reading at the tag of each row whose cells are mostly in a colour that few rows have. */
export function tellColours({ part, classified }: PartRows): void {
  const rows = classified.rows.filter(({ reason }) => reason === null);
  const coloured = rows.flatMap(({ row }) => {
    const colour = colourOf(row);
    return colour === null ? [] : [{ row, colour }];
  });
  const counts = new Map<string, number>();
  for (const { colour } of coloured) counts.set(colour, (counts.get(colour) ?? 0) + 1);
  const column = part.plan.read.find((c) => c.id === 'tag')?.column ?? 0;
  for (const { row, colour } of coloured) {
    if ((counts.get(colour) ?? 0) > rows.length * MOST_OF_A_SHEET) continue;
    const raw = row.cells.find((cell) => cell.column === column)?.text ?? '';
    const place = { sheet: part.sheet.name, row: row.number, column };
    const note = `the row is coloured ${colour}: looks like an addition of a revision; read like the others`;
    part.log.add(place, raw, 'tag', raw, 'likely', note);
  }
}
