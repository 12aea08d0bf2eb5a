/** The steps of marking up a workbook package. */
import { columnOf } from '../../../src-shared/document/import-answers.ts';
import type { Project, SheetRead } from '../../../src-shared/document/project.ts';
import type { MergedArea, SourceWorkbook } from '../../../src-shared/document/source-workbook.ts';
import {
  markUpPlan,
  type ReturnedSheet,
} from '../../../src-shared/exchange/export/build-markup-plan.ts';
import { isMarked } from '../../../src-shared/exchange/export/export-table.ts';
import type { MarkUpPlan, SheetMarkUp } from '../../../src-shared/exchange/export/markup-plan.ts';
import { findOwnColumns } from '../../../src-shared/exchange/export/own-columns.ts';
import { EngineSession } from '../../../src-shared/session/engine-session.ts';
import { frameFor, framesOf, titleOf } from '../book-frame.ts';
import { readSourceFile } from '../read-file.ts';
import { refuse } from '../refusal.ts';
import { StyleBook } from '../write-styles.ts';
import { retitle } from './app-titles.ts';
import { fontOfBook } from './book-font.ts';
import { dropFromChain } from './calc-chain.ts';
import { ForeignLooks } from './foreign-looks.ts';
import { forgetResults } from './forget-results.ts';
import { type BookSheet, type CellAt, followersOf } from './formula-followers.ts';
import { draftSupport, draftTable } from './graft-sheet.ts';
import { freeGraftName, type Graft, graftLooks, graftSheets } from './graft-sheets.ts';
import { markSheet, type SheetMarked } from './mark-sheet.ts';
import type { MarkUpOptions } from './mark-up-workbook.ts';
import { COLUMNS_NAME_MARK, findTraces, LOOKS_SHEET, type OwnTraces } from './own-traces.ts';
import { PackageEdit } from './package-edit.ts';
import { widenPrintArea } from './print-areas.ts';
import { areaText } from './references.ts';
import { removeOwnSheets } from './remove-own.ts';
import { returnedSheets } from './returned-sheets.ts';
import { FoundFacts, tablesOn } from './sheet-facts.ts';
import { cellKey, mapSheet, type SheetMap } from './sheet-map.ts';
import { plainStyles, StylesEdit } from './styles-edit.ts';
import { absoluteArea, addNames, askForCalculation } from './workbook-edit.ts';
import { mapWorkbook, type SheetEntry } from './workbook-map.ts';

const NEW_INSTEAD = 'Export a new workbook instead.';
const STYLES_TYPE = 'application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml';

function refuseSigned(edit: PackageEdit): void {
  if (!edit.keys().some((key) => key.startsWith('_xmlsignatures/'))) return;
  refuse(
    'signed',
    'The workbook is digitally signed; marks in it would break the signature.',
    edit.fileName,
    `${NEW_INSTEAD} Or open the workbook in a spreadsheet program, save it without its signature, and open that file here.`,
  );
}

function workbookPartOf(edit: PackageEdit): string {
  const links = edit.links('').filter(({ kind }) => kind === 'officeDocument');
  const part = links.find(({ target }) => edit.has(target))?.target ?? 'xl/workbook.xml';
  if (edit.has(part)) return part;
  const what = 'The workbook lacks its main part, the list of its sheets.';
  return refuse('missing-workbook', what, edit.where(part), NEW_INSTEAD);
}

/**
 * Columns of ours in a sheet that was read, zero-based: those in the area our hidden name gives that
 * are no columns of the schedule. Columns of ours that can be typed in have become the engineer's.
 */
function ownColumnsOf(
  project: Project,
  read: SheetRead,
  area: MergedArea | undefined,
): Set<number> {
  const { source } = project;
  if (source === null) return new Set();
  const own = findOwnColumns(source.columns.map((column) => column.header));
  const theirs = new Set(
    read.columnAt.flatMap((column, place) => (column === null || own.has(place) ? [] : [column])),
  );
  const before = [...own.keys()].flatMap((place) => columnOf(source, read, place) ?? []);
  const inArea = [...columnsOf(area)].filter((column) => !theirs.has(column));
  return new Set([...before, ...inArea]);
}

function columnsOf(area: MergedArea | undefined): Set<number> {
  const columns = new Set<number>();
  if (area === undefined) return columns;
  for (let column = area.firstColumn; column <= area.lastColumn; column += 1) columns.add(column);
  return columns;
}

/** One export at work: the package, what stands in it, what was found. */
class MarkUp {
  readonly edit: PackageEdit;
  readonly remarks: string[] = [];
  private readonly part: string;
  private readonly maps = new Map<string, SheetMap>();
  private shownBook: SourceWorkbook | null | undefined;

  constructor(
    private readonly bytes: Uint8Array,
    private readonly fileName: string,
    private readonly project: Project,
    private readonly options: MarkUpOptions,
  ) {
    this.edit = new PackageEdit(bytes, fileName);
    refuseSigned(this.edit);
    this.part = workbookPartOf(this.edit);
  }

  private worksheets(): SheetEntry[] {
    const kinds = new Map(this.edit.links(this.part).map((link) => [link.id, link.kind]));
    return mapWorkbook(this.edit, this.part).sheets.filter(
      ({ linkId }) => kinds.get(linkId) === 'worksheet',
    );
  }

  /** The part of a sheet as it was before this export; null: the workbook has no such sheet. */
  private mapOf(sheet: string): SheetMap | null {
    const known = this.maps.get(sheet);
    if (known !== undefined) return known;
    const entry = this.worksheets().find(({ name }) => name === sheet);
    const link = this.edit.links(this.part).find(({ id }) => id === entry?.linkId);
    const text = link === undefined ? undefined : this.edit.text(link.target);
    if (link === undefined || text === undefined) return null;
    const map = mapSheet(text, link.target, this.edit.where(link.target));
    this.maps.set(sheet, map);
    return map;
  }

  /** The workbook as the reader reads it; null where it does not. */
  private book(): SourceWorkbook | null {
    if (this.shownBook === undefined) {
      const read = readSourceFile(this.bytes, this.fileName);
      this.shownBook = read.ok && read.kind === 'workbook' ? read.workbook : null;
    }
    return this.shownBook;
  }

  /** Text of a cell as its format shows it; the whole workbook is read when the first is asked for. */
  private shown(sheet: string, row: number, column: number): string | null {
    const rows = this.book()?.sheets.find(({ name }) => name === sheet)?.rows ?? [];
    const found = rows.find(({ number }) => number === row);
    return found?.cells.find((cell) => cell.column === column)?.text ?? null;
  }

  private factsOf(
    sheets: readonly SheetRead[],
    dropped: ReadonlyMap<string, ReadonlySet<number>>,
  ): (sheet: string) => FoundFacts | null {
    const known = new Map<string, FoundFacts | null>();
    const reads = new Map(sheets.map((read) => [read.sheet, read]));
    return (sheet) => {
      const before = known.get(sheet);
      if (before !== undefined) return before;
      const map = this.mapOf(sheet);
      const read = reads.get(sheet);
      const facts =
        map === null || read === undefined
          ? null
          : new FoundFacts({
              edit: this.edit,
              map,
              headerRow: read.headerRow,
              dropped: dropped.get(sheet) ?? new Set(),
              shown: (row, column) => this.shown(sheet, row, column),
            });
      known.set(sheet, facts);
      return facts;
    };
  }

  private refuseLost(plan: MarkUpPlan): void {
    const { source } = this.project;
    const reads = source?.sheets.filter(({ file }) => file === this.options.file) ?? [];
    const lost = reads.find((read) => this.mapOf(read.sheet) === null);
    if (lost !== undefined && plan.sheets.length < reads.length) {
      const what = `The workbook has no sheet ${lost.sheet}, from which the schedule was read.`;
      if (!this.removed.has(lost.sheet)) refuse('lost-sheet', what, this.fileName, NEW_INSTEAD);
    }
  }

  private removed: ReadonlySet<string> = new Set();

  /** Sheets of a file whose schedule was read from a sheet of ours. */
  private returned(traces: OwnTraces): ReturnedSheet[] {
    const { source } = this.project;
    const { file } = this.options;
    const isOurs = source?.sheets.some((s) => s.file === file && traces.sheets.has(s.sheet));
    const book = isOurs === true ? this.book() : null;
    return book === null ? [] : returnedSheets(book, traces, this.project, file);
  }

  private styles(mainSpace: string): { part: string; styles: StylesEdit } {
    const link = this.edit.links(this.part).find(({ kind }) => kind === 'styles');
    let part = link?.target ?? '';
    if (!this.edit.has(part)) {
      part = this.edit.freeName('xl/styles', '.xml').replace(/1\.xml$/, '.xml');
      if (this.edit.has(part)) part = this.edit.freeName('xl/styles', '.xml');
      this.edit.put(part, plainStyles(mainSpace));
      this.edit.addType(part, STYLES_TYPE);
      this.edit.addLink(this.part, 'styles', part);
    }
    return { part, styles: new StylesEdit(this.edit.text(part) ?? '', this.edit.where(part)) };
  }

  /** Cells whose formulas look at cells that say something else now, by sheet. */
  private followers(plan: MarkUpPlan): Map<string, Set<number>> {
    const changed: CellAt[] = plan.sheets.flatMap(({ sheet, cells, added }) => [
      ...cells
        .filter(({ cell }) => isMarked(cell) && cell.changed)
        .map(({ row, column }) => ({ sheet, row, column })),
      ...added.flatMap(({ row, theirs }) => theirs.map(({ column }) => ({ sheet, row, column }))),
    ]);
    const bySheet = new Map<string, Set<number>>();
    if (changed.length === 0) return bySheet;
    const sheets: BookSheet[] = this.worksheets().flatMap(({ name }) => {
      const map = this.mapOf(name);
      return map === null ? [] : [{ name, map }];
    });
    const names = new Map(
      mapWorkbook(this.edit, this.part).names.map((n) => [n.name.toLowerCase(), n.refersTo]),
    );
    const tables = new Map(
      sheets.flatMap(({ name, map }) =>
        tablesOn(this.edit, map).map((t) => [t.name.toLowerCase(), { sheet: name, area: t.area }]),
      ),
    );
    for (const { sheet, row, column } of followersOf(changed, sheets, { names, tables })) {
      const keys = bySheet.get(sheet) ?? new Set();
      bySheet.set(sheet, keys);
      keys.add(cellKey(row, column));
    }
    return bySheet;
  }

  run(): void {
    const { edit, part, project, options } = this;
    const first = mapWorkbook(edit, part);
    const { mainSpace, linkSpace } = first;
    edit.linkTypes = linkSpace;
    const titlesBefore = this.worksheets().map(({ name }) => name);
    const traces = findTraces(edit, first);
    this.removed = traces.sheets;
    removeOwnSheets(edit, part, traces.sheets);
    const reads =
      project.source?.sheets.filter(
        ({ file, sheet }) => file === options.file && !traces.sheets.has(sheet),
      ) ?? [];
    const dropped = new Map(
      reads.map((read) => [
        read.sheet,
        ownColumnsOf(project, read, traces.columns.get(read.sheet)),
      ]),
    );
    const returned = this.returned(traces);
    for (const { read } of returned) {
      dropped.set(read.sheet, columnsOf(traces.columns.get(read.sheet)));
    }
    const sheets = [...reads, ...returned.map(({ read }) => read)];
    const session = options.session ?? new EngineSession(project);
    const factsOf = this.factsOf(sheets, dropped);
    const plan = markUpPlan(project, session, options.file, factsOf, returned);
    this.refuseLost(plan);
    this.remarks.push(...plan.remarks);
    const { part: stylesPart, styles } = this.styles(mainSpace);
    const looks = new ForeignLooks(styles);
    const book = new StyleBook(fontOfBook(styles));
    const restored = traces.looks;
    const tools = { edit, styles, looks, book, restored, mainSpace, linkSpace };
    const followers = this.followers(plan);
    const marked = new Map<SheetMarkUp, SheetMarked>();
    for (const sheet of plan.sheets) {
      const map = this.mapOf(sheet.sheet);
      if (map === null) continue;
      const job = {
        plan: sheet,
        map,
        dropped: dropped.get(sheet.sheet) ?? new Set<number>(),
        followers: followers.get(sheet.sheet) ?? new Set<number>(),
      };
      marked.set(sheet, markSheet(job, tools));
    }
    this.settleBook(marked, followers);
    this.graft(plan, styles, looks, { mainSpace, linkSpace });
    this.nameColumns(plan, marked);
    edit.put(stylesPart, styles.write());
    retitle(
      edit,
      titlesBefore,
      this.worksheets().map(({ name }) => name),
    );
  }

  /** Print areas, the order of calculation, and results on other sheets that are no longer right. */
  private settleBook(
    marked: ReadonlyMap<SheetMarkUp, SheetMarked>,
    followers: ReadonlyMap<string, ReadonlySet<number>>,
  ): void {
    const { edit, part } = this;
    const ids = new Map(this.worksheets().map(({ name, sheetId }) => [name, sheetId]));
    const lost = new Map<number, ReadonlySet<number>>();
    const own = new Set<string>();
    let forgotten = 0;
    for (const [{ sheet, headerRow }, result] of marked) {
      own.add(sheet);
      forgotten += result.forgotten;
      lost.set(ids.get(sheet) ?? -1, result.lost);
      widenPrintArea(edit, part, sheet, { headerRow, ...result });
      if (result.pages !== null) {
        this.remarks.push(
          `Sheet ${sheet}: fitted to ${result.pages} pages side by side instead of 1, so that the wider sheet stays readable.`,
        );
      }
    }
    for (const [sheet, keys] of followers) {
      const map = own.has(sheet) ? null : this.mapOf(sheet);
      if (map !== null) forgotten += forgetResults(edit, map, keys);
    }
    dropFromChain(edit, part, lost);
    if (forgotten === 0) return;
    askForCalculation(edit, part);
    const results = forgotten === 1 ? '1 result' : `${forgotten} results`;
    this.remarks.push(
      `${results} of the workbook's own formulas depend on cells that were changed or added and will be calculated when the file is opened.`,
    );
  }

  private graft(
    plan: MarkUpPlan,
    styles: StylesEdit,
    looks: ForeignLooks,
    spaces: { readonly mainSpace: string; readonly linkSpace: string },
  ): void {
    const { edit, part, project } = this;
    const date = this.options.date ?? null;
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
  private nameColumns(plan: MarkUpPlan, marked: ReadonlyMap<SheetMarkUp, SheetMarked>): void {
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
    addNames(this.edit, this.part, names);
  }
}

/** Marks up a package. @throws RefusalError where it cannot be done right */
export async function markUpPackage(
  bytes: Uint8Array,
  fileName: string,
  project: Project,
  options: MarkUpOptions,
): Promise<{ bytes: Uint8Array; remarks: readonly string[] }> {
  const markUp = new MarkUp(bytes, fileName, project, options);
  markUp.run();
  return { bytes: markUp.edit.build(), remarks: markUp.remarks };
}
