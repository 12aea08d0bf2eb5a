/** What the plan of marks has to know of a sheet, from its part. */
import type { MergedArea } from '../../../src-shared/document/source-workbook.ts';
import type { SheetFacts } from '../../../src-shared/exchange/export/markup-plan.ts';
import { parseArea } from '../cell-address.ts';
import type { PackageEdit } from './package-edit.ts';
import { cellKey, type SheetMap, sectionOf } from './sheet-map.ts';
import { localName, scanXml } from './xml-scan.ts';

/** Extent of what a sheet holds; rows from 1, columns from 0, -1 and 0 for nothing. */
export interface UsedRange {
  readonly lastRow: number;
  readonly lastColumn: number;
}

/** Text of a part under an element, by its name without prefix. */
function textsOf(text: string, where: string, name: string): string[] {
  const found: string[] = [];
  let current: string | undefined;
  scanXml(text, where, {
    open: (tag) => {
      if (localName(tag.name) === name) current = '';
    },
    text: (piece) => {
      if (current !== undefined) current += piece;
    },
    close: (whole) => {
      if (localName(whole) !== name || current === undefined) return;
      found.push(current);
      current = undefined;
    },
  });
  return found;
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

/** Rectangles that pictures and charts cover; those anchored to a point count as that cell. */
function drawingAreas(edit: PackageEdit, map: SheetMap): MergedArea[] {
  const areas: MergedArea[] = [];
  for (const { kind, target } of edit.links(map.part)) {
    const text = kind === 'drawing' ? edit.text(target) : undefined;
    if (text === undefined) continue;
    const columns = textsOf(text, edit.where(target), 'col').map(Number);
    const rows = textsOf(text, edit.where(target), 'row').map(Number);
    const twos = (text.match(/<(?:\w+:)?twoCellAnchor\b/g) ?? []).length;
    const ones = (text.match(/<(?:\w+:)?oneCellAnchor\b/g) ?? []).length;
    // Corners come in the order of the anchors; anchors of both kinds together are taken as points.
    if (ones === 0 && columns.length === twos * 2 && rows.length === twos * 2) {
      for (let i = 0; i < columns.length; i += 2) {
        areas.push(areaOf(columns[i], rows[i], columns[i + 1], rows[i + 1]));
      }
    } else {
      columns.forEach((column, i) => {
        areas.push(areaOf(column, rows[i], column, rows[i]));
      });
    }
  }
  return areas;
}

function areaOf(left = 0, top = 0, right = left, bottom = top): MergedArea {
  return { firstColumn: left, firstRow: top + 1, lastColumn: right, lastRow: bottom + 1 };
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

/** Merged areas by row, so that a look-up need not walk them all. */
class MergeIndex {
  private readonly byRow = new Map<number, MergedArea[]>();
  private readonly tall: MergedArea[] = [];

  constructor(merges: readonly MergedArea[]) {
    for (const area of merges) {
      // A merge over the whole sheet must not be laid out row by row.
      if (area.lastRow - area.firstRow > 5000) this.tall.push(area);
      else {
        for (let row = area.firstRow; row <= area.lastRow; row += 1) {
          const list = this.byRow.get(row);
          if (list === undefined) this.byRow.set(row, [area]);
          else list.push(area);
        }
      }
    }
  }

  at(row: number, column: number): MergedArea | null {
    const has = (area: MergedArea) =>
      row >= area.firstRow &&
      row <= area.lastRow &&
      column >= area.firstColumn &&
      column <= area.lastColumn;
    return this.byRow.get(row)?.find(has) ?? this.tall.find(has) ?? null;
  }
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
      ...drawingAreas(edit, map),
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
    const right = Math.max(this.used.lastColumn, ...beside.map((area) => area.lastColumn));
    const isTable = this.tables.some((area) => area.lastColumn === right);
    const free = right + (isTable ? 2 : 1);
    const before = Math.min(...dropped);
    if (dropped.size === 0) return free;
    if (before > right) return Math.max(before, free);
    const room = this.roomFrom(before);
    return count <= room ? before : free;
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

/** Cells with a formula that others of its group take their formula from. */
export function groupOf(map: SheetMap, group: string): { row: number; column: number }[] {
  return [...map.formulas.values()]
    .filter((formula) => formula.group === group)
    .map(({ row, column }) => ({ row, column }));
}
