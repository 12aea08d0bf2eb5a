/** A table on a supporting sheet: a header row with known words, records below it. */
import type { SourceCell, SourceRow, SourceSheet } from '../../document/source-workbook.ts';
import type { Dimension } from '../../units/quantity.ts';
import { isLeftBlank } from '../schedule/answered-cells.ts';
import { isBlank, textOf } from '../schedule/cell-text.ts';
import { headerWords, withoutUnits, wordsOutsideBrackets } from '../schedule/header-words.ts';
import { SheetView } from '../schedule/sheet-view.ts';

/** Words each field of a table may be headed with, lower case; the first field is the key. */
export type TableWords<F extends string> = ReadonlyMap<F, readonly string[]>;

export interface TableColumn<F extends string> {
  readonly field: F;
  readonly column: number;
  readonly header: string;
}

export interface TableSheet<F extends string> {
  readonly sheet: SourceSheet;
  readonly view: SheetView;
  readonly headerRow: number;
  readonly columns: readonly TableColumn<F>[];
  /** Headers no field has claimed. */
  readonly others: readonly { readonly column: number; readonly header: string }[];
  /** Filled rows below the header. */
  readonly rows: readonly SourceRow[];
}

const units: readonly Dimension[] = [
  'length', 'power', 'current', 'voltage', 'resistancePerLength', 'percent',
]; // biome-ignore format: a list

function spellings(header: string): string[] {
  const whole = headerWords(header.replace(/(?:ohms?|Ω)\s*\/\s*\w+/iu, ' '));
  const outside = wordsOutsideBrackets(header);
  const all = [headerWords(header), whole, outside];
  return [...all, ...all.flatMap((words) => withoutUnits(words, units) ?? [])];
}

function fieldOf<F extends string>(header: string, words: TableWords<F>): F | null {
  const spelt = spellings(header);
  for (const spelling of spelt) {
    for (const [field, list] of words) if (list.includes(spelling)) return field;
  }
  return null;
}

const MOST_HEADER_ROWS = 40;

function headerColumns<F extends string>(
  row: SourceRow,
  words: TableWords<F>,
): { columns: TableColumn<F>[]; others: { column: number; header: string }[] } {
  const columns: TableColumn<F>[] = [];
  const others: { column: number; header: string }[] = [];
  for (const cell of row.cells) {
    const header = textOf(cell);
    if (header === '' || cell.kind !== 'text') continue;
    const field = header.length > 60 ? null : fieldOf(header, words);
    if (field === null || columns.some((c) => c.field === field)) {
      others.push({ column: cell.column, header });
    } else columns.push({ field, column: cell.column, header });
  }
  return { columns, others };
}

/**
 * Finds the table: the row that names the key field and most others, at least `atLeast` fields in
 * all. Null when the sheet has no such row.
 */
export function findTable<F extends string>(
  sheet: SourceSheet,
  words: TableWords<F>,
  atLeast: number,
): TableSheet<F> | null {
  const [key] = words.keys();
  let best: Omit<TableSheet<F>, 'view'> | null = null;
  for (const row of sheet.rows.slice(0, MOST_HEADER_ROWS)) {
    const { columns, others } = headerColumns(row, words);
    if (columns.length < atLeast || !columns.some((c) => c.field === key)) continue;
    if (best !== null && columns.length <= best.columns.length) continue;
    const rows = sheet.rows.filter(
      (r) => r.number > row.number && r.cells.some((c) => !isBlank(c)),
    );
    best = { sheet, headerRow: row.number, columns, others, rows };
  }
  return best === null ? null : { ...best, view: new SheetView(sheet) };
}

/**
 * The cell of a field in a row, or that of the merged area it continues; undefined when there is none or
 * it is blank.
 */
export function cellOf<F extends string>(
  table: TableSheet<F>,
  row: SourceRow,
  field: F,
): SourceCell | undefined {
  const column = table.columns.find((c) => c.field === field)?.column;
  if (column === undefined) return undefined;
  const own = row.cells.find((c) => c.column === column);
  if (own !== undefined && !isBlank(own)) return own;
  const area = isLeftBlank(own) ? null : table.view.areaFromAbove(row.number, column);
  if (area === null || area.firstRow <= table.headerRow) return undefined;
  const merged = table.view.cell(area.firstRow, column);
  return isBlank(merged) ? undefined : merged;
}

/** Rows that are notes below a table, not records. */
export function isTableNote(name: string): boolean {
  return name.length > 80 || /^(?:notes?|n\.?b\.?)\s*[:.]/iu.test(name);
}
