/** One sheet of the engineer's with our columns, marks, notes and new rows. */
import { columnLetters } from '../../../src-shared/document/source-workbook.ts';
import {
  contentOf,
  type ExportCell,
  type ExportColumn,
  isMarked,
} from '../../../src-shared/exchange/export/export-table.ts';
import type { SheetMarkUp } from '../../../src-shared/exchange/export/markup-plan.ts';
import { lookOf } from '../cell-look.ts';
import { fitColumns, linesOf } from '../column-fit.ts';
import { looksLikeFormula } from '../stored-text.ts';
import type { StyleBook } from '../write-styles.ts';
import type { ForeignLooks } from './foreign-looks.ts';
import { firstsOfGroups, formulaText } from './formula-followers.ts';
import type { PackageEdit } from './package-edit.ts';
import { pagesWide } from './page-fit.ts';
import { moveSharedFormulas } from './released-formulas.ts';
import { CellPatches, rowSplices } from './sheet-edit.ts';
import { columnWidths, SheetLooks, statedHeight } from './sheet-looks.ts';
import { cellKey, type SheetMap, sectionOf } from './sheet-map.ts';
import { foreignNotes, type NewNote, writeNotes } from './sheet-notes-edit.ts';
import {
  colSplices,
  dimensionSplices,
  legacyDrawingSplices,
  pagesWideSplices,
} from './sheet-settings.ts';
import type { StylesEdit } from './styles-edit.ts';
import { splice } from './xml-write.ts';

export interface SheetJob {
  readonly plan: SheetMarkUp;
  readonly map: SheetMap;
  /** Columns of ours from before. */
  readonly dropped: ReadonlySet<number>;
  /** Cells with a formula that looks at changed cells, by key. */
  readonly followers: ReadonlySet<number>;
}

export interface MarkTools {
  readonly edit: PackageEdit;
  readonly styles: StylesEdit;
  readonly looks: ForeignLooks;
  readonly book: StyleBook;
  /** Looks of cells marked by an earlier export, and what they were before. */
  readonly restored: ReadonlyMap<number, number>;
  readonly mainSpace: string;
  readonly linkSpace: string;
}

export interface SheetMarked {
  /** Keys of cells that have no formula any more. */
  readonly lost: ReadonlySet<number>;
  /** Formulas whose stored result was left out, because it is no longer right. */
  readonly forgotten: number;
  readonly lastRow: number;
  readonly lastColumn: number;
  readonly pages: number | null;
}

const isQuoted = (cell: ExportCell): boolean => {
  const value = contentOf(cell);
  return typeof value === 'string' && looksLikeFormula(value);
};

const noteOf = (cell: ExportCell): string | null => (isMarked(cell) ? cell.note : null);

/** Lines a header may take: as many as its row is high; a row that states no height shows one. */
function headerLines(map: SheetMap, row: number): number {
  const height = statedHeight(map, row);
  return height === null ? 1 : Math.max(1, Math.floor((height - 2) / 12));
}

/** Bold letters are wider than running text. */
const BOLD = 0.78;
const WIDEST_HEADER = 40;

/** The least width, from `width` on, in which a header takes no more than `lines` lines. */
function headerWidth(header: string, width: number, lines: number): number {
  let fit = width;
  while (fit < WIDEST_HEADER && linesOf(header, fit * BOLD) > lines) fit += 0.5;
  return Math.round(fit * 10) / 10;
}

/** Widths that show the values, and the headers in as many lines as the header row has. */
function widthsOf({ plan, map }: SheetJob): number[] {
  const rows = [...plan.rows.values(), ...plan.added.map((row) => row.ours)];
  // Headers are fitted below; without button and without the rule of three lines.
  const bare = plan.columns.map((column) => ({ ...column, header: '' }));
  const fits = fitColumns({ name: '', lead: [], columns: bare, rows });
  const lines = headerLines(map, plan.headerRow);
  return plan.columns.map(({ header }, i) => headerWidth(header, fits[i]?.width ?? 9, lines));
}

const SORT_TOGETHER =
  'The filter or table on the left does not reach these columns: to sort rows, select the columns of both.';

class SheetPainter {
  readonly patches = new CellPatches();
  readonly lost = new Set<number>();
  readonly notes: NewNote[] = [];
  forgotten = 0;
  lastRow: number;
  private readonly job: SheetJob;
  private readonly tools: MarkTools;
  private readonly looks: SheetLooks;
  /** Cells that carry a note of the engineer's. */
  private readonly noted: ReadonlySet<number>;
  /** Notes that found their cell taken, by row. */
  private readonly displaced = new Map<number, string[]>();

  constructor(job: SheetJob, tools: MarkTools) {
    this.job = job;
    this.tools = tools;
    const { plan, map } = job;
    const wanted = new Set(plan.cells.map((cell) => cell.row));
    for (const { like } of plan.added) if (like !== null) wanted.add(like);
    this.looks = new SheetLooks(map, wanted, tools.restored);
    this.noted = foreignNotes(tools.edit, map.part, job.dropped);
    this.lastRow = plan.headerRow;
  }

  paint(): void {
    const { plan } = this.job;
    for (const { row, column, cell } of plan.cells) this.paintTheirs(row, column, cell, row);
    for (const { row, like, theirs } of plan.added) {
      for (const { column, cell } of theirs) this.paintTheirs(row, column, cell, like ?? row, true);
    }
    this.settleFormulas();
    this.paintHeader();
    for (const [row, cells] of plan.rows) this.paintOurs(row, cells);
    for (const { row, ours } of plan.added) this.paintOurs(row, ours);
  }

  private note(row: number, column: number, text: string | null): void {
    if (text === null) return;
    if (!this.noted.has(cellKey(row, column))) {
      this.notes.push({ row, column, text });
      return;
    }
    const said = `${columnLetters(column)}${row}, which has a note already: ${text}`;
    const list = this.displaced.get(row);
    if (list === undefined) this.displaced.set(row, [said]);
    else list.push(said);
  }

  /** A cell of the engineer's: its look from `like`'s row, its content only where it is changed. */
  private paintTheirs(
    row: number,
    column: number,
    cell: ExportCell,
    like: number,
    isNew = false,
  ): void {
    const severity = isMarked(cell) ? cell.severity : null;
    const changed = isMarked(cell) ? cell.changed : false;
    const quoted = changed && isQuoted(cell);
    const found = this.looks.at(like, column);
    const base = changed ? this.tools.looks.unstruck(found) : found;
    // A whole row that is new says so at its tag; not every cell of it is outlined.
    const outlined = changed && (!isNew || noteOf(cell) !== null);
    const style = this.tools.looks.marked(base, { severity, changed: outlined, quoted });
    const content = changed ? { content: contentOf(cell) } : {};
    this.patches.add(row, column, { style, ...content });
    if (changed) this.loseFormula(row, column);
    this.note(row, column, noteOf(cell));
    this.lastRow = Math.max(this.lastRow, row);
  }

  private loseFormula(row: number, column: number): void {
    const key = cellKey(row, column);
    if (this.job.map.formulas.has(key)) this.lost.add(key);
  }

  /** Formulas that would now say something else: the document's values stay, other results go. */
  private settleFormulas(): void {
    const { map, plan, followers } = this.job;
    const read = new Set(plan.columnsRead);
    const firsts = firstsOfGroups(map);
    for (const key of followers) {
      const formula = map.formulas.get(key);
      if (formula === undefined || this.lost.has(key)) continue;
      const { row, column, kind } = formula;
      const isRead = read.has(column) && plan.rows.has(row);
      if (isRead && (kind === 'normal' || kind === 'shared') && this.hasResult(key)) {
        this.patches.add(row, column, { formula: 'freeze' });
        this.lost.add(key);
        const text = formulaText(map, formula, firsts);
        const said = `Was the formula =${text}, which would now give another value; the value is kept`;
        const before = this.notes.findIndex((n) => n.row === row && n.column === column);
        const known = before < 0 ? undefined : this.notes.splice(before, 1)[0];
        this.note(row, column, known === undefined ? said : `${known.text}\n\n${said}`);
      } else {
        this.patches.add(row, column, { formula: 'forget' });
        this.forgotten += 1;
      }
    }
    moveSharedFormulas(map, this.lost, this.patches);
  }

  private hasResult(key: number): boolean {
    const { map } = this.job;
    const formula = map.formulas.get(key);
    if (formula === undefined) return false;
    const behind = map.text.slice(formula.span.end, formula.span.end + 40);
    return new RegExp(`^\\s*<${map.prefix}v(\\s[^>]*)?>[^<]`).test(behind);
  }

  /** A filter or table sorts the engineer's columns without ours. */
  private sortsAlone(): boolean {
    const { map } = this.job;
    return sectionOf(map, 'autoFilter') !== undefined || map.linkIds.has('tablePart');
  }

  private paintHeader(): void {
    const { plan } = this.job;
    plan.columns.forEach(({ header, kind, ink, help, columnId }, i) => {
      const column = plan.firstColumn + i;
      const style = this.tools.styles.ownXf(this.tools.book.header(kind, ink), isQuoted(header));
      this.patches.add(plan.headerRow, column, { style, content: header });
      const isId = columnId === 'rowId' && help !== null && this.sortsAlone();
      this.note(plan.headerRow, column, isId ? `${help}\n\n${SORT_TOGETHER}` : help);
    });
  }

  private paintOurs(row: number, cells: readonly ExportCell[]): void {
    const { plan } = this.job;
    plan.columns.forEach((shown, i) => {
      const cell = cells[i] ?? null;
      const column = plan.firstColumn + i;
      this.patches.add(row, column, { style: this.ownLook(shown, cell), content: contentOf(cell) });
      const more = shown.columnId === 'findings' ? (this.displaced.get(row) ?? []) : [];
      const texts = [noteOf(cell) ?? '', ...more].filter((text) => text !== '');
      this.note(row, column, texts.length === 0 ? null : texts.join('\n\n'));
    });
    this.lastRow = Math.max(this.lastRow, row);
  }

  private ownLook(column: ExportColumn, cell: ExportCell): number {
    const look = lookOf(column, cell, false);
    // A summary of numbers stands like a number; a letter before it is part of a text's format.
    const isRange = column.kind === 'number' && look.kind === 'text' && look.severity === null;
    const style = this.tools.book.cell(
      isRange ? { ...look, kind: 'number', decimals: null, guarded: false } : look,
    );
    return this.tools.styles.ownXf(style, isQuoted(cell));
  }
}

/** Writes a sheet's marks into its part and its notes; the styles are only gathered. */
export function markSheet(job: SheetJob, tools: MarkTools): SheetMarked {
  const { plan, map, dropped } = job;
  const { edit } = tools;
  const painter = new SheetPainter(job, tools);
  painter.paint();
  const lastColumn = plan.firstColumn + plan.columns.length - 1;
  const own = widthsOf(job).map((width, i) => ({ column: plan.firstColumn + i, width }));
  const widths = columnWidths(map, lastColumn + 1);
  for (const { column, width } of own) widths[column] = width;
  const drawingId = map.linkIds.get('legacyDrawing')?.[0];
  const { drawingLink } = writeNotes(edit, map.part, drawingId, painter.notes, {
    dropped,
    widths,
    mainSpace: tools.mainSpace,
  });
  const pages = pagesWide(map, widths);
  const splices = [
    ...rowSplices(map, {
      cells: painter.patches.rows,
      dropped,
      droppedFrom: plan.headerRow,
      restored: tools.restored,
    }),
    ...colSplices(map, own, dropped),
    ...dimensionSplices(map, painter.lastRow, lastColumn),
    ...(pages === null ? [] : pagesWideSplices(map, pages)),
    ...(drawingLink === null ? [] : legacyDrawingSplices(map, drawingLink, tools.linkSpace)),
  ];
  edit.put(map.part, splice(map.text, splices));
  const { lost, forgotten, lastRow } = painter;
  return { lost, forgotten, lastRow, lastColumn, pages };
}
