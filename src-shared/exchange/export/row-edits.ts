/** Edits since the import, written into the engineer's own cells. */
import type { ColumnId } from '../../columns/column-table.ts';
import { columnOf, originsOf } from '../../document/import-answers.ts';
import type { Fixture } from '../../document/project.ts';
import type { MergedArea } from '../../document/source-workbook.ts';
import { isDitto } from '../schedule/cell-text.ts';
import type { CellMarks } from './cell-marks.ts';
import { inOtherSheet, type SheetParts, type SourcePlace, shownCell } from './markup-parts.ts';
import { changedRemark } from './schedule-rows.ts';
import { UNKNOWN } from './source-cells.ts';

/** Rows must come in the order of the sheet. */
export class RowEdits {
  /** Edits that could not be written into their cells. */
  unwritten = 0;
  /** Fixture whose value was last written into a column, until the file's own next value. */
  private readonly written = new Map<number, Fixture>();
  /** Columns whose last value stands in a row that is not read any more. */
  private readonly cut = new Set<number>();
  private goneSeen = 0;

  constructor(
    private readonly parts: SheetParts,
    private readonly places: readonly SourcePlace[],
    private readonly marks: CellMarks,
    /** Rows that stand for nothing any more, in the order of the sheet. */
    private readonly gone: readonly number[],
  ) {}

  /** Counts what cannot be written; gives what is said of it. */
  refuse({ title }: Pick<SourcePlace, 'title'>, why: string): string {
    this.unwritten += 1;
    return `Not written into this row: ${title} (${why}). It ${inOtherSheet}.`;
  }

  /** Writes what was edited since the import; gives what has no cell to go to. */
  edit(fixture: Fixture, row: number): string[] {
    this.passGone(row);
    const unwritten: string[] = [];
    const refuse = (place: SourcePlace, why: string) => unwritten.push(this.refuse(place, why));
    for (const place of this.places) {
      const { column, at, id } = place;
      if (id === null || id === 'quantity') continue;
      const out = this.parts.cells.cell(fixture, column);
      const isChanged =
        out.was !== null &&
        out.value !== UNKNOWN &&
        (out.overruled === true || !this.isSaidElsewhere(fixture, id));
      if (at === null) {
        const elsewhere = originsOf(fixture).some(
          (origin) => columnOf(this.parts.source, origin, column) !== null,
        );
        const isSaid = elsewhere || this.parts.cells.rows.hasTwin(fixture, column);
        if (isChanged && !isSaid && out.value !== null) {
          refuse(place, 'the sheet has no such column');
        }
        continue;
      }
      if (isChanged && out.unsayable !== undefined) {
        refuse(place, out.unsayable);
        continue;
      }
      const stays = !isChanged && !this.isOutOfStep(fixture, row, column, at);
      if (stays) continue;
      const area = this.parts.facts.mergeAt(row, at);
      const isCovered = area !== null && (area.lastRow > area.firstRow || at !== area.firstColumn);
      const why = this.parts.facts.whyFixed(row, at);
      if (isCovered) {
        if (!isChanged) continue;
        const { firstRow, lastRow, firstColumn } = area;
        if (!this.isShared(area, at, column)) {
          refuse(place, `merged over rows ${firstRow} to ${lastRow}`);
        } else if (!this.marks.isChanged(firstRow, firstColumn)) {
          const remark = changedRemark(out.was ?? '');
          this.marks.change(firstRow, firstColumn, out.value, remark);
        }
      } else if (why !== null) refuse(place, why);
      else {
        const remark = out.remark ?? changedRemark(out.was ?? this.rawText(fixture, column));
        this.marks.change(row, at, out.value, remark);
        this.written.set(column, fixture);
        this.cut.delete(column);
      }
    }
    return unwritten;
  }

  /** Rows above `row` that are gone: what they say is not read, so no ditto mark may lean on it. */
  private passGone(row: number): void {
    for (let next = this.gone[this.goneSeen]; next !== undefined && next < row; ) {
      for (const { column, at } of this.places) {
        const text = at === null ? null : this.parts.facts.shown(next, at);
        if (text !== null && text.trim() !== '' && !isDitto(text.trim())) this.cut.add(column);
      }
      this.goneSeen += 1;
      next = this.gone[this.goneSeen];
    }
  }

  /** Another file says what the document says: the two put it differently, nobody edited it. */
  private isSaidElsewhere(fixture: Fixture, id: ColumnId): boolean {
    return this.parts.others.some((cells) => cells.says(fixture, id));
  }

  private rawText(fixture: Fixture, column: number): string {
    return String(this.parts.cells.rows.originAt(fixture, column)?.cells[column] ?? '');
  }

  /**
   * A ditto mark below a cell that was changed would now repeat the new value: it is written out,
   * unless it means the same. So is one below a row that is gone.
   */
  private isOutOfStep(fixture: Fixture, row: number, column: number, at: number): boolean {
    const raw = this.parts.cells.rows.originAt(fixture, column)?.cells[column] ?? null;
    if (typeof raw !== 'string' || !isDitto(raw.trim())) {
      if (raw !== null && shownCell(this.parts.facts, row, at).row === row) {
        this.written.delete(column);
        this.cut.delete(column);
      }
      return false;
    }
    if (this.cut.has(column)) return this.parts.cells.stated(fixture, column) !== null;
    const above = this.written.get(column);
    if (above === undefined) return false;
    const says = (one: Fixture) => this.parts.cells.stated(one, column);
    return says(above) !== says(fixture);
  }

  /** All fixtures of a merged area say the same, and its cell can be written. */
  private isShared(area: MergedArea, at: number, column: number): boolean {
    const groups = this.parts.groups.filter(
      ({ row }) => row >= area.firstRow && row <= area.lastRow,
    );
    const stated = new Set(
      groups.flatMap(({ fixtures }) => fixtures.map((f) => this.parts.cells.stated(f, column))),
    );
    const isFixed = this.parts.facts.whyFixed(area.firstRow, area.firstColumn) !== null;
    return at === area.firstColumn && stated.size === 1 && !isFixed;
  }
}
