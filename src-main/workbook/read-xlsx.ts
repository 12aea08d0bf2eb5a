import type { SourceSheet, SourceWorkbook } from '../../src-shared/document/source-workbook.ts';
import { type CellStyles, noStyles, readCellStyles } from './cell-styles.ts';
import { readThemeColours } from './font-colour.ts';
import { findWorkbookPart } from './package-kind.ts';
import type { PackageParts } from './package-parts.ts';
import { ReadBudget } from './read-budget.ts';
import { counted, READ_LIMITS } from './read-limits.ts';
import { readSheet } from './read-sheet.ts';
import { GET_A_FRESH_COPY, refuse } from './refusal.ts';
import { type Relationship, readRelationships } from './relationships.ts';
import { readSharedStrings } from './shared-strings.ts';
import { plural, type SheetContext } from './sheet-context.ts';
import { LeftOutError } from './sheet-part.ts';
import { type ListedSheet, readWorkbookPart } from './workbook-part.ts';

type Links = ReadonlyMap<string, Relationship>;

function targetOf(links: Links, kind: string): string | undefined {
  for (const link of links.values()) if (link.kind === kind && !link.outside) return link.target;
  return undefined;
}

function stylesOf(parts: PackageParts, links: Links, remarks: string[]): CellStyles {
  const theme = readThemeColours(parts, targetOf(links, 'theme'));
  const name = targetOf(links, 'styles');
  if (name === undefined) return noStyles(theme);
  if (!parts.has(name)) {
    remarks.push(
      `The workbook names styles (${name}) but does not hold them: dates may be shown as numbers.`,
    );
  }
  return readCellStyles(parts, name, theme);
}

function remarkOnLinks(links: Links, remarks: string[]): void {
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

/** Checks that a listed sheet is one of its own: names and parts are how cells are told apart. */
class SheetList {
  readonly #names = new Set<string>();
  readonly #parts = new Map<string, string>();
  readonly #fileName: string;

  constructor(fileName: string) {
    this.#fileName = fileName;
  }

  /** @throws RefusalError `sheet-name-twice`, `sheet-part-twice` */
  add(name: string, part: string): void {
    const key = name.toLowerCase();
    if (this.#names.has(key)) {
      const what = `Two sheets of the workbook are named ${name}, so their cells cannot be told apart.`;
      refuse('sheet-name-twice', what, this.#fileName, GET_A_FRESH_COPY);
    }
    this.#names.add(key);
    const other = this.#parts.get(part);
    if (other !== undefined && part !== '') {
      const what = `The sheets ${other} and ${name} are said to be one and the same part of the file.`;
      refuse('sheet-part-twice', what, this.#fileName, GET_A_FRESH_COPY);
    }
    this.#parts.set(part, name);
  }
}

function linkOf(listed: ListedSheet, links: Links, where: string): Relationship {
  const link = links.get(listed.linkId);
  if (link) return link;
  const what = `The workbook lists the sheet ${listed.name} but does not say where it is.`;
  return refuse('missing-link', what, where, GET_A_FRESH_COPY);
}

/** A sheet; undefined for one without cells, an error for one too large. The last two are told. */
function readListed(
  listed: ListedSheet,
  link: Relationship,
  context: SheetContext,
): SourceSheet | LeftOutError | undefined {
  const { remarks } = context;
  if (link.kind !== 'worksheet') {
    remarks.push(`Sheet ${listed.name} holds no cells (it is a ${link.kind}) and was left out.`);
    return undefined;
  }
  const giveBack = context.budget.mark();
  try {
    return readSheet(listed, link, context);
  } catch (error) {
    if (!(error instanceof LeftOutError)) throw error;
    giveBack();
    const why = error.refusal.what.replace(/^The/, 'the');
    remarks.push(`Sheet ${listed.name} was left out, no schedule was found in it: ${why}`);
    return error;
  }
}

function shortened(remarks: readonly string[]): string[] {
  const over = remarks.length - READ_LIMITS.remarks;
  if (over <= 0) return [...remarks];
  return [...remarks.slice(0, READ_LIMITS.remarks), `${counted(over)} more remarks left out.`];
}

/**
 * Reads a workbook package (ECMA-376) as plain data.
 * @param parts the guarded package
 * @param remarks those of its container; joined by those of reading
 * @throws RefusalError with a word of its own for each way a file can be wrong
 */
export function readXlsx(parts: PackageParts, remarks: string[] = []): SourceWorkbook {
  const workbookName = findWorkbookPart(parts, remarks);
  const workbook = readWorkbookPart(parts, workbookName);
  const links = readRelationships(parts, workbookName);
  const strings = targetOf(links, 'sharedStrings');
  const context: SheetContext = {
    parts,
    styles: stylesOf(parts, links, remarks),
    strings: strings === undefined ? undefined : readSharedStrings(parts, strings),
    date1904: workbook.date1904,
    budget: new ReadBudget(parts.fileName),
    remarks,
  };
  remarkOnLinks(links, remarks);
  const sheets: SourceSheet[] = [];
  const list = new SheetList(parts.fileName);
  let leftOut: LeftOutError | undefined;
  for (const listed of workbook.sheets) {
    const link = linkOf(listed, links, parts.where(workbookName));
    list.add(listed.name, link.target);
    const read = readListed(listed, link, context);
    if (read instanceof LeftOutError) leftOut ??= read;
    else if (read) sheets.push(read);
  }
  if (sheets.length === 0 && leftOut) throw leftOut;
  if (sheets.length > 0 && sheets.every((sheet) => sheet.rows.length === 0)) {
    const what = 'No sheet of the workbook has a filled cell.';
    refuse('no-cells', what, parts.fileName, 'Choose another file, or export the schedule again.');
  }
  if (sheets.length === 0) {
    const what =
      workbook.sheets.length === 0
        ? 'The workbook lists no sheet.'
        : 'The workbook has no sheet with cells, only charts or the like.';
    const code = workbook.sheets.length === 0 ? 'no-sheets' : 'no-cells-sheet';
    refuse(code, what, parts.fileName, GET_A_FRESH_COPY);
  }
  remarkOnFormulas(sheets, workbook.recalculates, remarks);
  return { kind: 'xlsx', fileName: parts.fileName, sheets, remarks: shortened(remarks) };
}
