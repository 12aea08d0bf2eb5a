/** Formulas of the workbook whose results are no longer right once the plan is carried out. */
import { isMarked } from '../../../src-shared/exchange/export/export-table.ts';
import type { MarkUpPlan } from '../../../src-shared/exchange/export/markup-plan.ts';
import type { BookSheets } from './book-sheets.ts';
import { type BookSheet, type CellAt, followersOf } from './formula-followers.ts';
import { tablesOn } from './sheet-facts.ts';
import { cellKey } from './sheet-map.ts';
import { mapWorkbook } from './workbook-map.ts';

/** Keys of cells whose formulas look at cells that say something else now, by sheet. */
export function changedResults(plan: MarkUpPlan, book: BookSheets): Map<string, Set<number>> {
  const changed: CellAt[] = plan.sheets.flatMap(({ sheet, cells, added }) => [
    ...cells
      .filter(({ cell }) => isMarked(cell) && cell.changed)
      .map(({ row, column }) => ({ sheet, row, column })),
    ...added.flatMap(({ row, theirs }) => theirs.map(({ column }) => ({ sheet, row, column }))),
  ]);
  const bySheet = new Map<string, Set<number>>();
  if (changed.length === 0) return bySheet;
  const sheets: BookSheet[] = book.names().flatMap((name) => {
    const map = book.mapOf(name);
    return map === null ? [] : [{ name, map }];
  });
  const names = new Map(
    mapWorkbook(book.edit, book.part).names.map((n) => [n.name.toLowerCase(), n.refersTo]),
  );
  const tables = new Map(
    sheets.flatMap(({ name, map }) =>
      tablesOn(book.edit, map).map((t) => [t.name.toLowerCase(), { sheet: name, area: t.area }]),
    ),
  );
  for (const { sheet, row, column } of followersOf(changed, sheets, { names, tables })) {
    const keys = bySheet.get(sheet) ?? new Set();
    bySheet.set(sheet, keys);
    keys.add(cellKey(row, column));
  }
  return bySheet;
}
