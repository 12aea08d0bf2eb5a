import type { SourceSheet, SourceWorkbook } from '../../src-shared/document/source-workbook.ts';
import { readCellStyles } from './cell-styles.ts';
import { findWorkbookPart } from './package-kind.ts';
import type { PackageParts } from './package-parts.ts';
import { ReadBudget } from './read-budget.ts';
import { GET_A_FRESH_COPY, refuse } from './refusal.ts';
import { type Relationship, readRelationships } from './relationships.ts';
import { readSharedStrings } from './shared-strings.ts';
import { plural, type SheetContext } from './sheet-context.ts';
import { settleMerges } from './sheet-merges.ts';
import { attachNotes } from './sheet-notes.ts';
import { readSheetPart } from './sheet-part.ts';
import { type ListedSheet, readWorkbookPart } from './workbook-part.ts';

function targetOf(links: ReadonlyMap<string, Relationship>, kind: string): string | undefined {
  for (const link of links.values()) if (link.kind === kind && !link.external) return link.target;
  return undefined;
}

function readSheet(listed: ListedSheet, link: Relationship, context: SheetContext): SourceSheet {
  const { parts, remarks } = context;
  const { name } = listed;
  const bytes = link.external ? undefined : parts.read(link.target);
  if (!bytes) {
    refuse(
      'missing-part',
      `The workbook lists the sheet ${name} but does not hold it.`,
      parts.where(link.target),
      GET_A_FRESH_COPY,
    );
  }
  const { rows, merges: found, hiddenColumns } = readSheetPart(bytes, link.target, name, context);
  const { merges, covered, overlapping } = settleMerges(found, rows);
  attachNotes(parts, readRelationships(parts, link.target), name, rows, remarks);
  if (hiddenColumns.length > 0) {
    remarks.push(
      `Sheet ${name}: hidden columns were read like the others: ${hiddenColumns.join(', ')}.`,
    );
  }
  if (covered > 0) {
    remarks.push(
      `Sheet ${name}: ${plural(covered, 'value')} beneath merged cells, not seen in the sheet, left out.`,
    );
  }
  if (overlapping > 0) {
    remarks.push(
      `Sheet ${name}: ${plural(overlapping, 'merged area')} overlapping another left out.`,
    );
  }
  return { name, hidden: listed.hidden, rows, merges };
}

function remarkOnLinks(links: ReadonlyMap<string, Relationship>, remarks: string[]): void {
  let count = 0;
  for (const link of links.values()) if (link.kind === 'externalLink') count++;
  if (count > 0) {
    const verb = count === 1 ? 'was' : 'were';
    remarks.push(`${plural(count, 'link')} to other workbooks ${verb} not followed.`);
  }
}

function remarkOnFormulas(sheets: readonly SourceSheet[], stale: boolean, remarks: string[]): void {
  let formulas = 0;
  let withoutValue = 0;
  for (const sheet of sheets) {
    for (const row of sheet.rows) {
      for (const cell of row.cells) {
        if (cell.formula === undefined) continue;
        formulas++;
        if (cell.value === null) withoutValue++;
      }
    }
  }
  if (withoutValue > 0) {
    remarks.push(
      `${plural(withoutValue, 'formula')} without a kept result: open the workbook in a spreadsheet program and save it once.`,
    );
  }
  if (stale && formulas > withoutValue) {
    remarks.push(
      'The workbook asks to be calculated anew when opened: results kept in it may be out of date. Open it in a spreadsheet program and save it once.',
    );
  }
}

/**
 * Reads a workbook package (ECMA-376) as plain data.
 * @param parts the guarded package
 * @throws RefusalError with a word of its own for each way a file can be wrong
 */
export function readXlsx(parts: PackageParts): SourceWorkbook {
  const workbookName = findWorkbookPart(parts);
  const workbook = readWorkbookPart(parts, workbookName);
  const links = readRelationships(parts, workbookName);
  const remarks: string[] = [];
  const styles = targetOf(links, 'styles');
  const strings = targetOf(links, 'sharedStrings');
  const context: SheetContext = {
    parts,
    styles: styles === undefined ? [] : readCellStyles(parts, styles),
    strings: strings === undefined ? undefined : readSharedStrings(parts, strings),
    date1904: workbook.date1904,
    budget: new ReadBudget(parts.fileName),
    remarks,
  };
  remarkOnLinks(links, remarks);
  const sheets: SourceSheet[] = [];
  for (const listed of workbook.sheets) {
    const link = links.get(listed.linkId);
    if (!link) {
      refuse(
        'missing-part',
        `The workbook lists the sheet ${listed.name} but does not say where it is.`,
        parts.where(workbookName),
        GET_A_FRESH_COPY,
      );
    }
    if (link.kind === 'worksheet') sheets.push(readSheet(listed, link, context));
    else
      remarks.push(`Sheet ${listed.name} holds no cells (it is a ${link.kind}) and was left out.`);
  }
  if (sheets.length === 0) {
    refuse('no-sheets', 'The workbook has no sheet with cells.', parts.fileName, GET_A_FRESH_COPY);
  }
  remarkOnFormulas(sheets, workbook.recalculates, remarks);
  return { kind: 'xlsx', fileName: parts.fileName, sheets, remarks };
}
