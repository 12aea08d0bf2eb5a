/** What the plan of marks has to know of a sheet, from its part. */
import type { MergedArea } from '../../../src-shared/document/source-workbook.ts';
import type { SheetFacts } from '../../../src-shared/exchange/export/markup-plan.ts';
import { parseArea } from '../cell-address.ts';
import { SHEET_LAST_COLUMN } from '../read-limits.ts';
import { refuse } from '../refusal.ts';
import { drawingAreas } from './drawing-areas.ts';
import { MergeIndex } from './merge-index.ts';
import type { PackageEdit } from './package-edit.ts';
import { cellKey, type SheetMap, sectionOf } from './sheet-map.ts';
import { localName, scanXml } from './xml-scan.ts';

/** Extent of what a sheet holds; rows from 1, columns from 0, -1 and 0 for nothing. */
export interface UsedRange {
  readonly lastRow: number;
  readonly lastColumn: number;
}

/** Tables that stand on the sheet, with their names. */
export function tablesOn(edit: PackageEdit, map: SheetMap): { name: string; area: MergedArea }[] {
  const links = edit.links(map.part).filter((link) => link.kind === 'table');
  return links.flatMap(({ target }) => {
    const text = edit.text(target);
    if (text === undefined) return [];
    let area: MergedArea | undefined;
    let name = '';
    scanXml(text, edit.where(target), {
      open: (tag) => {
        if (tag.depth > 1) return;
        area = parseArea(tag.attributes.ref ?? '');
        name = tag.attributes.displayName ?? tag.attributes.name ?? '';
      },
    });
    return area === undefined ? [] : [{ name, area }];
  });
}

/** Cells of small charts, which the sheet keeps among its extensions. */
function sparkAreas(map: SheetMap, where: string): MergedArea[] {
  const section = sectionOf(map, 'extLst');
  if (section === undefined) return [];
  const text = map.text.slice(section.start, section.end);
  if (!text.includes('sparkline')) return [];
  const areas: MergedArea[] = [];
  let inSpark = false;
  let current: string | undefined;
  scanXml(text, where, {
    open: (tag) => {
      const name = localName(tag.name);
      if (name === 'sparkline') inSpark = true;
      if (name === 'sqref' && inSpark) current = '';
    },
    text: (piece) => {
      if (current !== undefined) current += piece;
    },
    close: (whole) => {
      const name = localName(whole);
      if (name === 'sparkline') inSpark = false;
      if (name !== 'sqref' || current === undefined) return;
      const area = parseArea(current.trim());
      if (area !== undefined) areas.push(area);
      current = undefined;
    },
  });
  return areas;
}

export interface FactsParts {
  readonly edit: PackageEdit;
  readonly map: SheetMap;
  readonly headerRow: number;
  /** Columns of ours from before, which go. */
  readonly dropped: ReadonlySet<number>;
  readonly shown: (row: number, column: number) => string | null;
}

/** Everything that stands on a sheet, ours from before left out. */
export class FoundFacts implements SheetFacts {
  readonly firstFreeRow: number;
  readonly filledRows: readonly number[];
  readonly used: UsedRange;
  private readonly merges: MergeIndex;
  private readonly areas: readonly MergedArea[];
  private readonly tables: readonly MergedArea[];
  private readonly arrays: readonly MergedArea[];

  constructor(private readonly parts: FactsParts) {
    const { edit, map, dropped, headerRow } = parts;
    this.merges = new MergeIndex(map.merges);
    this.tables = tablesOn(edit, map).map(({ area }) => area);
    const filter = parseArea(sectionOf(map, 'autoFilter')?.attributes.ref ?? '');
    this.areas = [
      ...this.tables,
      ...map.merges,
      ...(filter === undefined ? [] : [filter]),
      ...sparkAreas(map, edit.where(map.part)),
      ...drawingAreas(edit, map.part),
    ];
    this.arrays = [...map.formulas.values()].flatMap(({ kind, area }) =>
      (kind === 'array' || kind === 'dataTable') && area !== null ? [area] : [],
    );
    const filled: number[] = [];
    let [lastRow, lastColumn] = [0, -1];
    const { rows, cells } = map;
    for (let place = 0; place < rows.number.length; place += 1) {
      const behind =
        place + 1 === rows.number.length ? cells.column.length : rows.firstCell.at(place + 1);
      const number = rows.number.at(place);
      let isFilled = false;
      for (let cell = rows.firstCell.at(place); cell < behind; cell += 1) {
        const column = cells.column.at(cell);
        if (cells.filled.at(cell) === 0) continue;
        if (number >= headerRow && dropped.has(column)) continue;
        isFilled = true;
        lastColumn = Math.max(lastColumn, column);
      }
      if (isFilled) {
        filled.push(number);
        lastRow = Math.max(lastRow, number);
      }
    }
    this.filledRows = filled;
    this.used = { lastRow, lastColumn };
    const below = this.areas.filter((area) => area.lastRow < 1_000_000).map((area) => area.lastRow);
    const bottom = Math.max(lastRow, ...below);
    const ends = [...this.tables, ...(filter === undefined ? [] : [filter])];
    // A row right below a table or a filtered list would be drawn into it.
    this.firstFreeRow = bottom + (ends.some((area) => area.lastRow === bottom) ? 2 : 1);
  }

  mergeAt(row: number, column: number): MergedArea | null {
    return this.merges.at(row, column);
  }

  whyFixed(row: number, column: number): string | null {
    const formula = this.parts.map.formulas.get(cellKey(row, column));
    const inArray = this.arrays.some(
      (area) =>
        row >= area.firstRow &&
        row <= area.lastRow &&
        column >= area.firstColumn &&
        column <= area.lastColumn,
    );
    if (inArray || formula?.kind === 'array' || formula?.kind === 'dataTable') {
      return 'a formula over several cells';
    }
    return null;
  }

  /**
   * Right of all that stands there: behind cells, merged areas and filters, behind pictures and
   * charts beside the rows, and one column away from a table. Where ours stood before, if nothing
   * of the engineer's has come behind them.
   */
  firstColumn(count: number): number {
    const { headerRow, dropped } = this.parts;
    const beside = this.areas.filter(
      (area) =>
        area.lastRow >= headerRow && area.firstRow <= this.used.lastRow && area.lastColumn < 16_000,
    );
    const right = Math.max(this.used.lastColumn, ...beside.map((area) => this.endOf(area)));
    const isTable = this.tables.some((area) => area.lastColumn === right);
    const free = right + (isTable ? 2 : 1);
    const before = Math.min(...dropped);
    const staysAt = dropped.size > 0 && (before > right || count <= this.roomFrom(before));
    const first = staysAt ? Math.max(before, before > right ? free : before) : free;
    if (first + count > SHEET_LAST_COLUMN + 1) this.refuseFull();
    return first;
  }

  private refuseFull(): never {
    refuse(
      'no-room',
      'Right of what stands on the sheet there is no room for the columns of the marked-up schedule.',
      this.parts.edit.where(this.parts.map.part),
      'Empty the last columns of the sheet, or export a new workbook instead.',
    );
  }

  /** Where an area ends, columns of ours at its end left out. */
  private endOf({ firstColumn, lastColumn }: MergedArea): number {
    let end = lastColumn;
    while (end > firstColumn && this.parts.dropped.has(end)) end -= 1;
    return end;
  }

  private roomFrom(column: number): number {
    let room = 0;
    while (this.parts.dropped.has(column + room)) room += 1;
    return room;
  }

  shown(row: number, column: number): string | null {
    return this.parts.shown(row, column);
  }
}
