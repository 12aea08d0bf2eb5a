/**
 * Within the parts that change: everything that is not ours is as it was. Parts are parsed here with
 * saxes and namespaces, not by the program.
 */
import { describe, expect, it } from 'vitest';
import type { Project } from '../../src-shared/document/project.ts';
import { bytesOf, markedUp, projectOf, workbooks } from './jobs.ts';
import { childrenNamed, elementsOf, localOf, treeOf, under, type XmlNode } from './xml-tree.ts';
import { contentsOf } from './zip-reading.ts';

type Parts = ReadonlyMap<string, string>;

const folded = (parts: Parts) => new Map([...parts].map(([k, v]) => [k.toLowerCase(), v]));

function partOf(parts: Parts, name: string): XmlNode {
  const text = folded(parts).get(name.replace(/^\//, '').toLowerCase());
  if (text === undefined) throw new Error(`no part ${name}`);
  return treeOf(text.replace(/^\uFEFF/, ''));
}

/** Links of a part: id to name of the part it leads to, and kind. */
function linksOf(parts: Parts, name: string): Map<string, { target: string; kind: string }> {
  const cut = name.lastIndexOf('/') + 1;
  const text = folded(parts).get(
    `${name.slice(0, cut)}_rels/${name.slice(cut)}.rels`.toLowerCase(),
  );
  const links = new Map<string, { target: string; kind: string }>();
  if (text === undefined) return links;
  for (const { attributes } of elementsOf(treeOf(text))) {
    const { Id = '', Target = '', Type = '', TargetMode } = attributes;
    const base = new URL(name === '' ? 'p:/' : `p:/${name}`);
    const target = TargetMode === 'External' ? Target : new URL(Target, base).pathname.slice(1);
    links.set(Id, { target, kind: Type.split('/').pop() ?? '' });
  }
  return links;
}

function workbookOf(parts: Parts): string {
  const links = [...linksOf(parts, '').values()];
  return links.find(({ kind }) => kind === 'officeDocument')?.target ?? '';
}

const idOf = ({ attributes }: XmlNode): string =>
  attributes['{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id'] ?? '';

/** Names of sheets in order with their parts. */
function sheetsOf(parts: Parts): { name: string; part: string; state: string }[] {
  const book = workbookOf(parts);
  const links = linksOf(parts, book);
  const list = under(partOf(parts, book), 'sheets');
  return (list === undefined ? [] : elementsOf(list)).map((sheet) => ({
    name: sheet.attributes.name ?? '',
    part: links.get(idOf(sheet))?.target ?? '',
    state: sheet.attributes.state ?? 'visible',
  }));
}

/** What a style is made of, written out: places in lists may not be compared. */
class Styles {
  private readonly lists: ReadonlyMap<string, XmlNode[]>;
  private readonly formats: ReadonlyMap<string, string>;

  constructor(root: XmlNode | null) {
    const list = (name: string): [string, XmlNode[]] => {
      const found = root === null ? undefined : under(root, name);
      return [name, found === undefined ? [] : elementsOf(found)];
    };
    this.lists = new Map(['fonts', 'fills', 'borders', 'cellXfs', 'numFmts'].map(list));
    this.formats = new Map(
      this.lists
        .get('numFmts')
        ?.map(({ attributes }) => [attributes.numFmtId ?? '', attributes.formatCode ?? '']),
    );
  }

  get hasAny(): boolean {
    return (this.lists.get('cellXfs')?.length ?? 0) > 0;
  }

  at(place: string | undefined): Readonly<Record<string, unknown>> {
    const xf = this.lists.get('cellXfs')?.[Number(place ?? 0)];
    const { numFmtId = '0', fontId = '0', fillId, borderId, ...rest } = xf?.attributes ?? {};
    const { applyFill: _f, applyBorder: _b, applyFont: _o, quotePrefix: _q, ...kept } = rest;
    return {
      format: this.formats.get(numFmtId) ?? numFmtId,
      font: this.lists.get('fonts')?.[Number(fontId)],
      children: xf?.children ?? [],
      kept,
    };
  }
}

function stylesOf(parts: Parts): Styles {
  const links = [...linksOf(parts, workbookOf(parts)).values()];
  const part = links.find(({ kind }) => kind === 'styles')?.target;
  return new Styles(part === undefined ? null : partOf(parts, part));
}

/** Cells by reference, rows by number; places are counted where they are not stated. */
function cellsOf(sheet: XmlNode): { cells: Map<string, XmlNode>; rows: Map<number, XmlNode> } {
  const cells = new Map<string, XmlNode>();
  const rows = new Map<number, XmlNode>();
  const data = under(sheet, 'sheetData');
  let number = 0;
  for (const row of data === undefined ? [] : elementsOf(data)) {
    number = Number(row.attributes.r ?? number + 1);
    rows.set(number, row);
    let column = 0;
    for (const cell of elementsOf(row)) {
      const letters = /^[A-Z]+/.exec(cell.attributes.r ?? '')?.[0];
      column = letters === undefined ? column + 1 : numberOf(letters);
      cells.set(`${column},${number}`, cell);
    }
  }
  return { cells, rows };
}

function numberOf(letters: string): number {
  let sum = 0;
  for (const letter of letters) sum = sum * 26 + letter.charCodeAt(0) - 64;
  return sum;
}

/** Children of a sheet that may change, each looked at on its own below. */
const lookedAt = new Set(['sheetData', 'cols', 'dimension', 'legacyDrawing', 'pageSetup']);

/** Widths by column, one by one up to the 60th and the last. */
function columnsOf(sheet: XmlNode): Map<number, Record<string, string>> {
  const found = new Map<number, Record<string, string>>();
  const cols = under(sheet, 'cols');
  for (const { attributes } of cols === undefined ? [] : elementsOf(cols)) {
    const { min, max, ...rest } = attributes;
    for (const n of [...Array(60).keys()].map((i) => i + 1).concat(16_384)) {
      if (n >= Number(min) && n <= Number(max)) found.set(n, rest);
    }
  }
  return found;
}

/** First column of ours in a sheet, from 1: that of our headers. */
function firstOfOurs(sheet: XmlNode, headerRow: number, was: XmlNode): number {
  const [now, before] = [cellsOf(sheet).cells, cellsOf(was).cells];
  const fresh = [...now.keys()].flatMap((key) => {
    const [column, row] = key.split(',').map(Number);
    return row === headerRow && !before.has(key) && column !== undefined ? [column] : [];
  });
  return Math.min(...fresh);
}

describe.each([...workbooks.keys()])('%s', async (name) => {
  const bytes = bytesOf(name);
  const project: Project = projectOf(bytes, `${name}.xlsx`);
  const marked = await markedUp(bytes, `${name}.xlsx`, project);
  const [before, after] = [contentsOf(bytes), contentsOf(marked.bytes)];
  const [stylesBefore, stylesAfter] = [stylesOf(before), stylesOf(after)];
  const nowOf = new Map(sheetsOf(after).map((sheet) => [sheet.name, sheet]));
  const read = project.source?.sheets ?? [];

  it('lists its own sheets first, each with its own part', () => {
    const was = sheetsOf(before);
    expect(sheetsOf(after).slice(0, was.length)).toEqual(was);
  });

  it.each(read.map(({ sheet, headerRow }) => [sheet, headerRow] as const))(
    'sheet %s: all that is not ours is as it was',
    (sheet, headerRow) => {
      const part = sheetsOf(before).find((one) => one.name === sheet)?.part ?? '';
      const [was, is] = [partOf(before, part), partOf(after, nowOf.get(sheet)?.part ?? '')];
      expect(is.attributes).toEqual(was.attributes);
      const others = (node: XmlNode) =>
        elementsOf(node).filter((child) => !lookedAt.has(localOf(child)));
      expect(others(is)).toEqual(others(was));
      const [a, b] = [cellsOf(was), cellsOf(is)];
      const ours = firstOfOurs(is, headerRow, was);
      for (const [key, cell] of a.cells) {
        const now = b.cells.get(key);
        const { s: styleBefore, ...plain } = cell.attributes;
        const { s: styleAfter, ...plainNow } = now?.attributes ?? {};
        expect([key, plainNow, now?.children]).toEqual([key, plain, cell.children]);
        // A workbook without styles has got the usual ones.
        if (stylesBefore.hasAny) {
          expect(stylesAfter.at(styleAfter)).toEqual(stylesBefore.at(styleBefore));
        }
      }
      for (const key of b.cells.keys()) {
        if (a.cells.has(key)) continue;
        const [column = 0] = key.split(',').map(Number);
        const now = b.cells.get(key);
        // An empty cell a finding points at is there now, for its shade.
        if (column < ours) expect(now?.children).toEqual([]);
      }
      for (const [number, row] of a.rows) {
        const { spans: _before, ...plain } = row.attributes;
        const { spans: _after, ...now } = b.rows.get(number)?.attributes ?? {};
        expect(now).toEqual(plain);
      }
      const widths = columnsOf(is);
      for (const [column, width] of columnsOf(was)) {
        if (column < ours) expect([column, widths.get(column)]).toEqual([column, width]);
      }
      const setup = (node: XmlNode) => {
        const { fitToWidth: _pages, ...rest } = under(node, 'pageSetup')?.attributes ?? {};
        return rest;
      };
      expect(setup(is)).toEqual(setup(was));
      if (under(was, 'legacyDrawing') !== undefined) {
        expect(under(is, 'legacyDrawing')).toEqual(under(was, 'legacyDrawing'));
      }
    },
  );

  it('keeps notes, boxes of notes and controls, links, content types', () => {
    for (const [part, text] of before) {
      const now = after.get(part) ?? '';
      if (text === now) continue;
      const [was, is] = [treeOf(text), treeOf(now)];
      if (/comments?[^/]*\.xml$/i.test(part)) {
        const list = (node: XmlNode) => elementsOf(under(node, 'commentList') ?? node);
        expect(list(is).slice(0, list(was).length)).toEqual(list(was));
        const authors = (node: XmlNode) => elementsOf(under(node, 'authors') ?? node);
        expect(authors(is).slice(0, authors(was).length)).toEqual(authors(was));
      } else if (/\.(vml|rels)$|Content_Types/.test(part)) {
        expect(elementsOf(is).slice(0, elementsOf(was).length)).toEqual(elementsOf(was));
      }
    }
  });

  it('keeps its styles in their places', () => {
    const links = [...linksOf(before, workbookOf(before)).values()];
    const part = links.find(({ kind }) => kind === 'styles')?.target;
    if (part === undefined) return;
    const [was, is] = [partOf(before, part), partOf(after, part)];
    for (const list of elementsOf(was)) {
      const now = childrenNamed(is, localOf(list))[0];
      if (now === undefined) throw new Error(`no ${localOf(list)}`);
      expect(elementsOf(now).slice(0, elementsOf(list).length)).toEqual(elementsOf(list));
      if (now.attributes.count !== undefined) {
        expect(Number(now.attributes.count)).toBe(elementsOf(now).length);
      }
    }
  });

  it('keeps names, calculation settings and all else of the list of sheets', () => {
    const [was, is] = [partOf(before, workbookOf(before)), partOf(after, workbookOf(after))];
    const skip = new Set(['sheets', 'definedNames']);
    const rest = (node: XmlNode) => elementsOf(node).filter((child) => !skip.has(localOf(child)));
    expect(rest(is)).toEqual(rest(was));
    const names = (node: XmlNode) =>
      elementsOf(under(node, 'definedNames') ?? { ...node, children: [] });
    const isPrintArea = ({ attributes }: XmlNode) => attributes.name === '_xlnm.Print_Area';
    const mine = names(was).filter((one) => !isPrintArea(one));
    expect(names(is)).toEqual(expect.arrayContaining(mine));
    expect(names(is).filter(isPrintArea)).toHaveLength(names(was).filter(isPrintArea).length);
  });
});
