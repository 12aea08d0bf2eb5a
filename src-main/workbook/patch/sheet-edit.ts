/** A sheet part with cells, columns and settings changed, all in one pass. */
import type { CellContent } from '../../../src-shared/exchange/export/export-table.ts';
import { cellXml } from './cell-xml.ts';
import { cellKey, type SheetFormula, type SheetMap } from './sheet-map.ts';
import { type Splice, withAttribute } from './xml-write.ts';

/** What happens to one cell. A cell that is not there yet is made. */
export interface CellPatch {
  /** New content in place of value and formula; left out: they stay. */
  readonly content?: CellContent;
  /** New style; left out: it stays. */
  readonly style?: number;
  /** `freeze`: the value stays without its formula. `forget`: the formula stays without its value. */
  readonly formula?: 'freeze' | 'forget';
  /** The formula element is written anew, as the first of its group. */
  readonly formulaXml?: string;
}

export interface SheetPatch {
  readonly cells: ReadonlyMap<number, ReadonlyMap<number, CellPatch>>;
  /** Columns that lose their cells, from row `droppedFrom` on. */
  readonly dropped: ReadonlySet<number>;
  readonly droppedFrom: number;
  /** Styles that go back to what they were. */
  readonly restored: ReadonlyMap<number, number>;
}

/** Patches by row and column, in the order of both when written. */
export class CellPatches {
  readonly rows = new Map<number, Map<number, CellPatch>>();

  get(row: number, column: number): CellPatch | undefined {
    return this.rows.get(row)?.get(column);
  }

  add(row: number, column: number, patch: CellPatch): void {
    let cells = this.rows.get(row);
    if (cells === undefined) {
      cells = new Map();
      this.rows.set(row, cells);
    }
    const before = cells.get(column);
    cells.set(column, before === undefined ? patch : { ...before, ...patch });
  }
}

class RowWriter {
  private readonly map: SheetMap;
  private readonly patch: SheetPatch;

  constructor(map: SheetMap, patch: SheetPatch) {
    this.map = map;
    this.patch = patch;
  }

  private made(row: number, column: number, patch: CellPatch): string {
    return cellXml(this.map.prefix, row, column, patch.style ?? 0, patch.content ?? null);
  }

  /** An existing cell with its patch and its style as it was before an earlier export. */
  private changed(row: number, cell: number, patch: CellPatch | undefined): string {
    const { cells, text, prefix } = this.map;
    const column = cells.column.at(cell);
    const before = cells.style.at(cell);
    const restored = this.patch.restored.get(before);
    const style = patch?.style ?? restored;
    if (patch?.content !== undefined) {
      const kept = style ?? Math.max(0, before);
      return cellXml(prefix, row, column, kept, patch.content);
    }
    const [start, tagEnd, end] = [cells.start, cells.tagEnd, cells.end].map((list) =>
      list.at(cell),
    );
    let tag = text.slice(start, tagEnd);
    if (style !== undefined) tag = withAttribute(tag, 's', String(style));
    let inner = text.slice(tagEnd, end);
    const formula = this.map.formulas.get(cellKey(row, column));
    if (formula !== undefined && tagEnd !== undefined) {
      if (patch?.formula === 'forget') {
        inner = withoutValue(inner, prefix);
        tag = withAttribute(tag, 't', null);
      }
      if (patch?.formula === 'freeze') inner = this.formulaAs('', formula, inner, tagEnd);
      if (patch?.formulaXml !== undefined) {
        inner = this.formulaAs(patch.formulaXml, formula, inner, tagEnd);
      }
    }
    return tag + inner;
  }

  private formulaAs(xml: string, { span }: SheetFormula, inner: string, from: number): string {
    const whole = this.map.text.slice(span.start, span.end);
    const at = inner.indexOf(whole, Math.max(0, Math.min(span.start - from, inner.length)));
    return at < 0 ? inner : inner.slice(0, at) + xml + inner.slice(at + whole.length);
  }

  private isDropped(row: number, column: number): boolean {
    return row >= this.patch.droppedFrom && this.patch.dropped.has(column);
  }

  private touches(row: number, first: number, end: number): boolean {
    const { dropped, restored } = this.patch;
    if (dropped.size === 0 && restored.size === 0) return false;
    const { cells } = this.map;
    for (let cell = first; cell < end; cell += 1) {
      if (restored.has(cells.style.at(cell))) return true;
      if (this.isDropped(row, cells.column.at(cell))) return true;
    }
    return false;
  }

  /** The change of the row at a place of the table; null: it stays sign by sign. */
  row(place: number): Splice | null {
    const { rows, cells, text, prefix } = this.map;
    const number = rows.number.at(place);
    const first = rows.firstCell.at(place);
    const isLast = place + 1 === rows.number.length;
    const behind = isLast ? cells.column.length : rows.firstCell.at(place + 1);
    const patches = this.patch.cells.get(number);
    if (patches === undefined && !this.touches(number, first, behind)) return null;
    const left = [...(patches ?? [])].sort(([a], [b]) => a - b);
    const pieces: string[] = [];
    let next = 0;
    let lastColumn = -1;
    const put = (column: number, xml: string) => {
      pieces.push(xml);
      lastColumn = Math.max(lastColumn, column);
    };
    const putUpTo = (column: number) => {
      for (let one = left[next]; one !== undefined && one[0] < column; one = left[next]) {
        put(one[0], this.made(number, ...one));
        next += 1;
      }
    };
    const [start, tagEnd, end] = [rows.start.at(place), rows.tagEnd.at(place), rows.end.at(place)];
    let from = tagEnd;
    for (let cell = first; cell < behind; cell += 1) {
      const column = cells.column.at(cell);
      putUpTo(column);
      const between = text.slice(from, cells.start.at(cell));
      from = cells.end.at(cell);
      const one = left[next];
      const patch = one?.[0] === column ? one[1] : undefined;
      if (patch !== undefined) next += 1;
      if (this.isDropped(number, column)) {
        pieces.push(between);
        if (patch !== undefined) put(column, this.made(number, column, patch));
      } else put(column, between + this.changed(number, cell, patch));
    }
    putUpTo(Number.POSITIVE_INFINITY);
    const isEmpty = rows.isEmpty.at(place) === 1;
    const tag = withSpan(text.slice(start, tagEnd), lastColumn);
    if (isEmpty) {
      if (pieces.length === 0) return null;
      const open = tag.replace(/\s*\/>$/, '>');
      return { start, end, text: `${open}${pieces.join('')}</${prefix}row>` };
    }
    return { start, end, text: tag + pieces.join('') + text.slice(from, end) };
  }

  /** A row that is not there yet. */
  newRow(number: number, patches: ReadonlyMap<number, CellPatch>): string {
    const { prefix } = this.map;
    const cells = [...patches].sort(([a], [b]) => a - b);
    const written = cells.map(([column, patch]) => this.made(number, column, patch));
    return `<${prefix}row r="${number}">${written.join('')}</${prefix}row>`;
  }
}

/** `spans` is a hint; it must not leave out what is there. */
function withSpan(tag: string, lastColumn: number): string {
  const found = /\sspans\s*=\s*["']([^"']*)["']/.exec(tag)?.[1];
  if (found === undefined) return tag;
  const [, first, last] = /^(\d+):(\d+)$/.exec(found) ?? [];
  if (first === undefined || last === undefined) return withAttribute(tag, 'spans', null);
  if (lastColumn + 1 <= Number(last)) return tag;
  return withAttribute(tag, 'spans', `${first}:${lastColumn + 1}`);
}

function withoutValue(inner: string, prefix: string): string {
  return inner.replace(new RegExp(`<${prefix}v(\\s[^>]*)?(/>|>[\\s\\S]*?</${prefix}v\\s*>)`), '');
}

/** All changes of rows and cells as changes of the text. */
export function rowSplices(map: SheetMap, patch: SheetPatch): Splice[] {
  const writer = new RowWriter(map, patch);
  const { rows, prefix } = map;
  const there = new Set<number>();
  for (let place = 0; place < rows.number.length; place += 1) there.add(rows.number.at(place));
  const fresh = [...patch.cells].filter(([row]) => !there.has(row)).sort(([a], [b]) => a - b);
  const splices: Splice[] = [];
  const data = map.sections.find((section) => section.name === 'sheetData');
  let next = 0;
  const freshUpTo = (row: number): string => {
    const made: string[] = [];
    for (let one = fresh[next]; one !== undefined && one[0] < row; one = fresh[next]) {
      made.push(writer.newRow(...one));
      next += 1;
    }
    return made.join('');
  };
  for (let place = 0; place < rows.number.length; place += 1) {
    const start = rows.start.at(place);
    const made = freshUpTo(rows.number.at(place));
    if (made !== '') splices.push({ start, end: start, text: made });
    const change = writer.row(place);
    if (change !== null) splices.push(change);
  }
  const rest = freshUpTo(Number.POSITIVE_INFINITY);
  if (rest === '' || data === undefined) return splices;
  if (data.isEmpty) {
    const open = map.text.slice(data.start, data.tagEnd).replace(/\s*\/>$/, '>');
    const text = `${open}${rest}</${prefix}sheetData>`;
    return [...splices, { start: data.start, end: data.end, text }];
  }
  const at = map.text.lastIndexOf('<', data.end - 1);
  return [...splices, { start: at, end: at, text: rest }];
}
