/** What is done to a workbook once its sheets are marked. */
import type { Project } from '../../../src-shared/document/project.ts';
import type { MarkUpPlan, SheetMarkUp } from '../../../src-shared/exchange/export/markup-plan.ts';
import { frameFor, framesOf, titleOf } from '../book-frame.ts';
import { StyleBook } from '../write-styles.ts';
import type { BookSheets } from './book-sheets.ts';
import { dropFromChain } from './calc-chain.ts';
import type { ForeignLooks } from './foreign-looks.ts';
import { forgetResults } from './forget-results.ts';
import { draftSupport, draftTable } from './graft-sheet.ts';
import { freeGraftName, type Graft, graftLooks, graftSheets } from './graft-sheets.ts';
import type { SheetMarked } from './mark-sheet.ts';
import { COLUMNS_NAME_MARK, LOOKS_SHEET } from './own-traces.ts';
import { widenPrintArea } from './print-areas.ts';
import { areaText } from './references.ts';
import type { StylesEdit } from './styles-edit.ts';
import { absoluteArea, addNames, askForCalculation } from './workbook-edit.ts';
import { mapWorkbook } from './workbook-map.ts';

/**
 * Print areas, the order of calculation, and results on other sheets that are no longer right; gives
 * what the person who exports should know.
 */
export function settleBook(
  book: BookSheets,
  marked: ReadonlyMap<SheetMarkUp, SheetMarked>,
  followers: ReadonlyMap<string, ReadonlySet<number>>,
): string[] {
  const { edit, part } = book;
  const remarks: string[] = [];
  const ids = new Map(book.worksheets().map(({ name, sheetId }) => [name, sheetId]));
  const lost = new Map<number, ReadonlySet<number>>();
  const own = new Set<string>();
  let forgotten = 0;
  for (const [{ sheet, headerRow }, result] of marked) {
    own.add(sheet);
    forgotten += result.forgotten;
    lost.set(ids.get(sheet) ?? -1, result.lost);
    widenPrintArea(edit, part, sheet, { headerRow, ...result });
    if (result.pages !== null) {
      remarks.push(
        `Sheet ${sheet}: fitted to ${result.pages} pages side by side instead of 1, so that the wider sheet stays readable.`,
      );
    }
  }
  for (const [sheet, keys] of followers) {
    const map = own.has(sheet) ? null : book.mapOf(sheet);
    if (map !== null) forgotten += forgetResults(edit, map, keys);
  }
  dropFromChain(edit, part, lost);
  if (forgotten === 0) return remarks;
  askForCalculation(edit, part);
  const results = forgotten === 1 ? '1 result' : `${forgotten} results`;
  remarks.push(
    `${results} of the workbook's own formulas depend on cells that were changed or added and will be calculated when the file is opened.`,
  );
  return remarks;
}

/** Our sheets behind the engineer's, in the order of the plan. */
export function graftPlan(
  book: BookSheets,
  project: Project,
  date: string | null,
  plan: MarkUpPlan,
  styles: StylesEdit,
  looks: ForeignLooks,
  spaces: { readonly mainSpace: string; readonly linkSpace: string },
): void {
  const { edit, part } = book;
  const frames = framesOf(project, date);
  const ownBook = new StyleBook();
  const taken = new Set(mapWorkbook(edit, part).sheets.map(({ name }) => name.toLowerCase()));
  const grafts: Graft[] = plan.tables.map((table) => {
    const title = titleOf(project, table.name.toLowerCase(), date);
    const frame = frameFor(frames, table.columns.length);
    const name = freeGraftName(table.name, taken);
    return { name, draft: draftTable(table, title, frame, ownBook) };
  });
  for (const sheet of plan.supports) {
    const name = freeGraftName(sheet.name, taken);
    grafts.push({ name, draft: draftSupport(sheet, frames.usual, ownBook) });
  }
  const place = { edit, workbookPart: part, styles, ...spaces };
  graftSheets(grafts, place);
  if (looks.before.size > 0) {
    graftLooks(freeGraftName(LOOKS_SHEET, taken), looks.before, place);
  }
}

/** Hidden names for our columns, so that they are found again after sheets are renamed. */
export function nameColumns(
  book: BookSheets,
  plan: MarkUpPlan,
  marked: ReadonlyMap<SheetMarkUp, SheetMarked>,
): void {
  const names = plan.sheets.flatMap((sheet, i) => {
    const result = marked.get(sheet);
    if (result === undefined) return [];
    const area = {
      firstRow: sheet.headerRow,
      lastRow: result.lastRow,
      firstColumn: sheet.firstColumn,
      lastColumn: result.lastColumn,
    };
    const refersTo = absoluteArea(sheet.sheet, areaText(area));
    return [{ name: `${COLUMNS_NAME_MARK}${i + 1}`, sheet: null, refersTo, hidden: true }];
  });
  addNames(book.edit, book.part, names);
}
