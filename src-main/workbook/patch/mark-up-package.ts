/** The steps of marking up a workbook package. */
import { columnOf } from '../../../src-shared/document/import-answers.ts';
import type { Project, SheetRead } from '../../../src-shared/document/project.ts';
import type { MergedArea } from '../../../src-shared/document/source-workbook.ts';
import {
  markUpPlan,
  type ReturnedSheet,
} from '../../../src-shared/exchange/export/build-markup-plan.ts';
import type { MarkUpPlan, SheetMarkUp } from '../../../src-shared/exchange/export/markup-plan.ts';
import { findOwnColumns } from '../../../src-shared/exchange/export/own-columns.ts';
import { EngineSession } from '../../../src-shared/session/engine-session.ts';
import { refuse } from '../refusal.ts';
import { StyleBook } from '../write-styles.ts';
import { retitle } from './app-titles.ts';
import { fontOfBook } from './book-font.ts';
import { BookSheets, NEW_INSTEAD } from './book-sheets.ts';
import { changedResults } from './changed-results.ts';
import { graftPlan, nameColumns, settleBook } from './finish-book.ts';
import { ForeignLooks } from './foreign-looks.ts';
import { type MarkTools, markSheet, type SheetMarked } from './mark-sheet.ts';
import type { MarkUpOptions } from './mark-up-options.ts';
import { findTraces, type OwnTraces } from './own-traces.ts';
import { PackageEdit } from './package-edit.ts';
import { removeOwnSheets } from './remove-own.ts';
import { returnedSheets } from './returned-sheets.ts';
import { FoundFacts } from './sheet-facts.ts';
import { mapWorkbook } from './workbook-map.ts';

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

/** Sheets to be marked, and the columns of ours from before that go. */
interface Targets {
  readonly sheets: readonly SheetRead[];
  readonly returned: readonly ReturnedSheet[];
  readonly dropped: ReadonlyMap<string, ReadonlySet<number>>;
}

function targetsOf(project: Project, file: number, book: BookSheets, traces: OwnTraces): Targets {
  const all = project.source?.sheets.filter((read) => read.file === file) ?? [];
  const reads = all.filter(({ sheet }) => !traces.sheets.has(sheet));
  const lost = reads.find(({ sheet }) => book.mapOf(sheet) === null);
  if (lost !== undefined) {
    const what = `The workbook has no sheet ${lost.sheet}, from which the schedule was read.`;
    refuse('lost-sheet', what, book.edit.fileName, NEW_INSTEAD);
  }
  // A file whose schedule was read from a sheet of ours: the engineer's own are marked all the same.
  const source = reads.length < all.length ? book.book() : null;
  const returned = source === null ? [] : returnedSheets(source, traces, project, file);
  const dropped = new Map<string, ReadonlySet<number>>();
  for (const read of reads) {
    dropped.set(read.sheet, ownColumnsOf(project, read, traces.columns.get(read.sheet)));
  }
  for (const { read } of returned) {
    dropped.set(read.sheet, columnsOf(traces.columns.get(read.sheet)));
  }
  return { sheets: [...reads, ...returned.map(({ read }) => read)], returned, dropped };
}

/** What stands on each sheet, looked up once. */
function factsOf({ sheets, dropped }: Targets, book: BookSheets) {
  const known = new Map<string, FoundFacts | null>();
  const reads = new Map(sheets.map((read) => [read.sheet, read]));
  return (sheet: string): FoundFacts | null => {
    const before = known.get(sheet);
    if (before !== undefined) return before;
    const [map, read] = [book.mapOf(sheet), reads.get(sheet)];
    const facts =
      map === null || read === undefined
        ? null
        : new FoundFacts({
            edit: book.edit,
            map,
            headerRow: read.headerRow,
            dropped: dropped.get(sheet) ?? new Set(),
            shown: (row, column) => book.shown(sheet, row, column),
          });
    known.set(sheet, facts);
    return facts;
  };
}

function markSheets(
  plan: MarkUpPlan,
  { dropped }: Targets,
  book: BookSheets,
  followers: ReadonlyMap<string, ReadonlySet<number>>,
  tools: MarkTools,
): Map<SheetMarkUp, SheetMarked> {
  const marked = new Map<SheetMarkUp, SheetMarked>();
  for (const sheet of plan.sheets) {
    const map = book.mapOf(sheet.sheet);
    if (map === null) continue;
    const job = {
      plan: sheet,
      map,
      dropped: dropped.get(sheet.sheet) ?? new Set<number>(),
      followers: followers.get(sheet.sheet) ?? new Set<number>(),
    };
    marked.set(sheet, markSheet(job, tools));
  }
  return marked;
}

/** Marks up a package. @throws RefusalError where it cannot be done right */
export function markUpPackage(
  bytes: Uint8Array,
  fileName: string,
  project: Project,
  { file, date, session = new EngineSession(project) }: MarkUpOptions,
): { readonly bytes: Uint8Array; readonly remarks: readonly string[] } {
  const edit = new PackageEdit(bytes, fileName);
  const book = new BookSheets(edit, bytes);
  const first = mapWorkbook(edit, book.part);
  const { mainSpace, linkSpace } = first;
  edit.linkTypes = linkSpace;
  const titlesBefore = book.names();
  const traces = findTraces(edit, first);
  removeOwnSheets(edit, book.part, traces.sheets);
  const targets = targetsOf(project, file, book, traces);
  const plan = markUpPlan(project, session, file, factsOf(targets, book), targets.returned);
  const { part: stylesPart, styles } = book.styles(mainSpace);
  const looks = new ForeignLooks(styles);
  const followers = changedResults(plan, book);
  const marked = markSheets(plan, targets, book, followers, {
    edit,
    styles,
    looks,
    book: new StyleBook(fontOfBook(styles)),
    restored: traces.looks,
    mainSpace,
    linkSpace,
  });
  const remarks = [...plan.remarks, ...settleBook(book, marked, followers)];
  graftPlan(book, project, date ?? null, plan, styles, looks, { mainSpace, linkSpace });
  nameColumns(book, plan, marked);
  edit.put(stylesPart, styles.write());
  retitle(edit, titlesBefore, book.names());
  return { bytes: edit.build(), remarks };
}
