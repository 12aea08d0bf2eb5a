/** Where everything stands in a sheet part: found in one walk, used to change it in one pass. */
import type { MergedArea } from '../../../src-shared/document/source-workbook.ts';
import { parseAddress, parseArea } from '../cell-address.ts';
import { IntList } from './int-list.ts';
import type { Span } from './workbook-map.ts';
import { attributeOf, localName, type OpenTag, prefixOf, scanXml } from './xml-scan.ts';

export interface Section extends Span {
  /** Without prefix. */
  readonly name: string;
  readonly tagEnd: number;
  readonly isEmpty: boolean;
  readonly attributes: Readonly<Record<string, string>>;
}

/** `<col>`: columns from 0. */
export interface ColSpan extends Span {
  readonly first: number;
  readonly last: number;
  readonly attributes: Readonly<Record<string, string>>;
}

/** A formula of a cell. */
export interface SheetFormula {
  readonly row: number;
  readonly column: number;
  readonly kind: string;
  /** Group of shared formulas; null: of none. */
  readonly group: string | null;
  /** Area of a shared or array formula, where its first cell states it. */
  readonly area: MergedArea | null;
  /** The element. */
  readonly span: Span;
  /** Its text as written; empty for a follower of a group. */
  readonly content: Span;
}

/** Key of a cell: row from 1, column from 0. */
export function cellKey(row: number, column: number): number {
  return row * 16_384 + column;
}

/** Rows by place, in the order of the text. */
export interface RowTable {
  readonly number: IntList;
  readonly start: IntList;
  readonly tagEnd: IntList;
  readonly end: IntList;
  readonly isEmpty: IntList;
  /** First of its cells; they reach to the first of the next row. */
  readonly firstCell: IntList;
}

/** Cells by place, in the order of the text. */
export interface CellTable {
  readonly column: IntList;
  readonly start: IntList;
  readonly tagEnd: IntList;
  readonly end: IntList;
  /** -1: none stated. */
  readonly style: IntList;
  /** It has a value, a text or a formula. */
  readonly filled: IntList;
}

export interface SheetMap {
  readonly part: string;
  readonly text: string;
  readonly prefix: string;
  readonly root: Section;
  /** Place of the root's end tag. */
  readonly rootEnd: number;
  /** Children of the root in order. */
  readonly sections: readonly Section[];
  readonly cols: readonly ColSpan[];
  readonly rows: RowTable;
  readonly cells: CellTable;
  readonly merges: readonly MergedArea[];
  readonly formulas: ReadonlyMap<number, SheetFormula>;
  /** Ids of links by the name of the element that states them: `legacyDrawing`, `tablePart`. */
  readonly linkIds: ReadonlyMap<string, readonly string[]>;
  readonly fitsToPage: boolean;
}

const noAttributes: Readonly<Record<string, string>> = {};

class SheetMapper {
  readonly sections: Section[] = [];
  readonly cols: ColSpan[] = [];
  readonly merges: MergedArea[] = [];
  readonly formulas = new Map<number, SheetFormula>();
  readonly linkIds = new Map<string, string[]>();
  readonly rows: RowTable = {
    number: new IntList(),
    start: new IntList(),
    tagEnd: new IntList(),
    end: new IntList(),
    isEmpty: new IntList(),
    firstCell: new IntList(),
  };
  readonly cells: CellTable = {
    column: new IntList(),
    start: new IntList(),
    tagEnd: new IntList(),
    end: new IntList(),
    style: new IntList(),
    filled: new IntList(),
  };
  root: Section | undefined;
  rootEnd = 0;
  prefix = '';
  fitsToPage = false;
  private section: OpenTag | undefined;
  private sectionName = '';
  private row = 0;
  private column = -1;
  private rowName = 'row';
  private cellName = 'c';
  private formula: { tag: OpenTag; group: string | null; kind: string } | undefined;

  open(tag: OpenTag): void {
    const { depth } = tag;
    if (depth > 2 && this.sectionName === 'sheetData') this.inData(tag);
    else if (depth === 1) this.openRoot(tag);
    else if (depth === 2) {
      this.section = tag;
      this.sectionName = localName(tag.name);
      this.noteLink(tag, this.sectionName);
    } else this.inSection(tag);
  }

  private openRoot(tag: OpenTag): void {
    this.prefix = prefixOf(tag.name);
    this.rowName = `${this.prefix}row`;
    this.cellName = `${this.prefix}c`;
    const { name, attributes, start, end, isEmpty } = tag;
    this.root = { name: localName(name), attributes, start, end, tagEnd: end, isEmpty };
  }

  private noteLink(tag: OpenTag, name: string): void {
    const id =
      name.endsWith('rawing') || name.endsWith('HF') || name === 'tablePart'
        ? attributeOf(tag, 'id')
        : undefined;
    if (id === undefined) return;
    const list = this.linkIds.get(name);
    if (list === undefined) this.linkIds.set(name, [id]);
    else list.push(id);
  }

  private inSection(tag: OpenTag): void {
    if (tag.depth !== 3) return;
    const name = localName(tag.name);
    if (name === 'col' && this.sectionName === 'cols') {
      const [min, max] = [Number(tag.attributes.min), Number(tag.attributes.max)];
      const { attributes, start, end } = tag;
      this.cols.push({ first: min - 1, last: max - 1, attributes, start, end });
    } else if (name === 'mergeCell') {
      const area = parseArea(tag.attributes.ref ?? '');
      if (area !== undefined) this.merges.push(area);
    } else if (name === 'tablePart') this.noteLink(tag, name);
    else if (name === 'pageSetUpPr') {
      this.fitsToPage = /^(1|true|on)$/i.test(tag.attributes.fitToPage ?? '');
    }
  }

  private inData(tag: OpenTag): void {
    if (tag.depth === 3 && tag.name === this.rowName) {
      this.row = tag.attributes.r === undefined ? this.row + 1 : Number(tag.attributes.r);
      this.column = -1;
      const { rows } = this;
      rows.number.push(this.row);
      rows.start.push(tag.start);
      rows.tagEnd.push(tag.end);
      rows.end.push(tag.end);
      rows.isEmpty.push(tag.isEmpty ? 1 : 0);
      rows.firstCell.push(this.cells.column.length);
    } else if (tag.depth === 4 && tag.name === this.cellName) {
      const { r, s } = tag.attributes;
      const at = r === undefined ? undefined : parseAddress(r);
      this.column = at === undefined ? this.column + 1 : at.column;
      const { cells } = this;
      cells.column.push(this.column);
      cells.start.push(tag.start);
      cells.tagEnd.push(tag.end);
      cells.end.push(tag.end);
      cells.style.push(s === undefined ? -1 : Number(s));
      cells.filled.push(0);
    } else if (tag.depth === 5) this.inCell(tag);
  }

  private inCell(tag: OpenTag): void {
    const name = tag.name.slice(this.prefix.length);
    const { cells } = this;
    if (name === 'f') {
      const { t = 'normal', si = null } = tag.attributes;
      this.formula = { tag, group: t === 'shared' ? si : null, kind: t };
      cells.filled.set(cells.filled.length - 1, 1);
    } else if (!tag.isEmpty && (name === 'v' || name === 'is')) {
      cells.filled.set(cells.filled.length - 1, 1);
    }
  }

  close(name: string, start: number, end: number, depth: number): void {
    if (depth === 2) this.closeSection(end);
    else if (depth === 1) this.rootEnd = start;
    else if (this.sectionName !== 'sheetData') return;
    else if (depth === 3 && name === this.rowName) this.rows.end.set(this.rows.end.length - 1, end);
    else if (depth === 4 && name === this.cellName) {
      this.cells.end.set(this.cells.end.length - 1, end);
    } else if (depth === 5 && this.formula !== undefined) {
      const { tag, kind, group } = this.formula;
      this.formulas.set(cellKey(this.row, this.column), {
        row: this.row,
        column: this.column,
        kind,
        group,
        area: parseArea(tag.attributes.ref ?? '') ?? null,
        span: { start: tag.start, end },
        content: { start: tag.end, end: start },
      });
      this.formula = undefined;
    }
  }

  private closeSection(end: number): void {
    const { section } = this;
    if (section === undefined) return;
    const isHuge = this.sectionName === 'sheetData';
    this.sections.push({
      name: this.sectionName,
      start: section.start,
      end,
      tagEnd: section.end,
      isEmpty: section.isEmpty,
      attributes: isHuge ? noAttributes : section.attributes,
    });
    this.section = undefined;
    this.sectionName = '';
  }
}

/** Walks a sheet part once. Throws `RefusalError` where it is broken. */
export function mapSheet(text: string, part: string, where: string): SheetMap {
  const mapper = new SheetMapper();
  scanXml(text, where, mapper);
  const none: Section = {
    name: '', start: 0, end: 0, tagEnd: 0, isEmpty: true, attributes: {},
  }; // biome-ignore format: one line
  const { prefix, rootEnd, sections, cols, rows, cells, merges, formulas, linkIds, fitsToPage } =
    mapper;
  return {
    part,
    text,
    prefix,
    root: mapper.root ?? none,
    rootEnd,
    sections,
    cols,
    rows,
    cells,
    merges,
    formulas,
    linkIds,
    fitsToPage,
  };
}

/** Order of a sheet's children (ECMA-376 part 1, 18.3.1.99, CT_Worksheet). */
const sectionOrder = [
  'sheetPr', 'dimension', 'sheetViews', 'sheetFormatPr', 'cols', 'sheetData', 'sheetCalcPr',
  'sheetProtection', 'protectedRanges', 'scenarios', 'autoFilter', 'sortState', 'dataConsolidate',
  'customSheetViews', 'mergeCells', 'phoneticPr', 'conditionalFormatting', 'dataValidations',
  'hyperlinks', 'printOptions', 'pageMargins', 'pageSetup', 'headerFooter', 'rowBreaks',
  'colBreaks', 'customProperties', 'cellWatches', 'ignoredErrors', 'smartTags', 'drawing',
  'legacyDrawing', 'legacyDrawingHF', 'drawingHF', 'picture', 'oleObjects', 'controls',
  'webPublishItems', 'tableParts', 'extLst',
]; // biome-ignore format: a list

/** A choice between ways of writing holds objects or controls. */
const rankOf = (name: string): number =>
  sectionOrder.indexOf(name === 'AlternateContent' ? 'oleObjects' : name);

/** Where a child of the root that is not there yet belongs. */
export function placeOfSection({ sections, root }: SheetMap, name: string): number {
  const rank = rankOf(name);
  let place = root.tagEnd;
  for (const section of sections) {
    if (rankOf(section.name) > rank) break;
    place = section.end;
  }
  return place;
}

export function sectionOf({ sections }: SheetMap, name: string): Section | undefined {
  return sections.find((section) => section.name === name);
}
