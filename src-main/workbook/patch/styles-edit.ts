/** The styles part with more looks behind those it has: nothing is renumbered. */
import type { Dress } from '../write-styles.ts';
import type { Section } from './sheet-map.ts';
import { alignmentXml, borderXml, fillXml, fontXml } from './style-xml.ts';
import type { Span } from './workbook-map.ts';
import { localName, type OpenTag, prefixOf, scanXml, withOpenRoot } from './xml-scan.ts';
import { attributeText, type Splice, splice, withAttribute } from './xml-write.ts';

/** A list of the part: what it has, and what is to come behind. */
interface StyleList {
  readonly items: string[];
  readonly known: Map<string, number>;
  readonly before: number;
}

const listNames = ['fonts', 'fills', 'borders', 'cellXfs'] as const;
type ListName = (typeof listNames)[number];

/** Order of the children (ECMA-376 part 1, 18.8.39, CT_Stylesheet). */
const sectionOrder = [
  'numFmts', 'fonts', 'fills', 'borders', 'cellStyleXfs', 'cellXfs', 'cellStyles', 'dxfs',
  'tableStyles', 'colors', 'extLst',
]; // biome-ignore format: a list

/** Formats every program knows by number (ECMA-376 part 1, 18.8.30). */
const builtIn: ReadonlyMap<string, number> = new Map([
  ['General', 0],
  ['0', 1],
  ['0.00', 2],
  ['@', 49],
]);

/** A styles part for a workbook without one. */
export function plainStyles(mainSpace: string): string {
  return `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<styleSheet xmlns="${mainSpace}"><fonts count="1"><font><sz val="11"/><name val="Calibri"/><family val="2"/></font></fonts><fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills><borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders><cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs><cellXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/></cellXfs><cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>`;
}

/**
 * What stands first in each list, for a part that leaves it out: cells and styles that state nothing
 * take the first, and programs take the first two fills for these two whatever they say.
 */
function firstItems(p: string): Record<ListName, readonly string[]> {
  const fill = (type: string) => `<${p}fill><${p}patternFill patternType="${type}"/></${p}fill>`;
  return {
    fonts: [
      `<${p}font><${p}sz val="11"/><${p}name val="Calibri"/><${p}family val="2"/></${p}font>`,
    ],
    fills: [fill('none'), fill('gray125')],
    borders: [
      `<${p}border><${p}left/><${p}right/><${p}top/><${p}bottom/><${p}diagonal/></${p}border>`,
    ],
    cellXfs: [`<${p}xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/>`],
  };
}

/** A cell style taken apart: its tag and what it holds. */
export interface XfParts {
  readonly attributes: Readonly<Record<string, string>>;
  /** Alignment, protection and extensions, as written. */
  readonly inner: string;
}

export class StylesEdit {
  readonly prefix: string;
  private readonly text: string;
  private readonly where: string;
  private readonly sections: Section[] = [];
  private readonly lists = new Map<ListName, StyleList>();
  private readonly formats = new Map<string, number>();
  private readonly newFormats: [id: number, code: string][] = [];
  private nextFormat = 164;
  private formatCount = 0;
  private rootEnd = 0;

  constructor(written: string, where: string) {
    const text = withOpenRoot(written, where);
    this.text = text;
    this.where = where;
    let prefix = '';
    const items = new Map<ListName, string[]>(listNames.map((name) => [name, []]));
    let section: OpenTag | undefined;
    let item: OpenTag | undefined;
    scanXml(text, where, {
      open: (tag) => {
        if (tag.depth === 1) prefix = prefixOf(tag.name);
        if (tag.depth === 2) section = tag;
        if (tag.depth === 3) item = tag;
        if (localName(tag.name) === 'numFmt' && section?.name === `${prefix}numFmts`) {
          this.noteFormat(tag);
        }
      },
      close: (name, start, end, depth) => {
        if (depth === 3 && item !== undefined && section !== undefined) {
          items.get(localName(section.name) as ListName)?.push(text.slice(item.start, end));
        }
        if (depth === 2 && section !== undefined) {
          const { attributes, start: from, end: tagEnd, isEmpty } = section;
          this.sections.push({
            name: localName(name),
            start: from,
            end,
            tagEnd,
            isEmpty,
            attributes,
          });
        }
        if (depth === 1) this.rootEnd = start;
      },
    });
    this.prefix = prefix;
    for (const [name, list] of items) {
      const known = new Map<string, number>();
      list.forEach((xml, place) => {
        if (!known.has(xml)) known.set(xml, place);
      });
      const before = list.length;
      list.push(...firstItems(prefix)[name].slice(before));
      this.lists.set(name, { items: list, known, before });
    }
  }

  private noteFormat(tag: OpenTag): void {
    const id = Number(tag.attributes.numFmtId);
    const code = tag.attributes.formatCode ?? '';
    if (!this.formats.has(code)) this.formats.set(code, id);
    this.nextFormat = Math.max(this.nextFormat, id + 1);
    this.formatCount += 1;
  }

  private add(name: ListName, xml: string): number {
    const list = this.lists.get(name);
    if (list === undefined) return 0;
    const known = list.known.get(xml);
    if (known !== undefined) return known;
    list.known.set(xml, list.items.length);
    list.items.push(xml);
    return list.items.length - 1;
  }

  addFont(xml: string): number {
    return this.add('fonts', xml);
  }

  addFill(xml: string): number {
    return this.add('fills', xml);
  }

  addBorder(xml: string): number {
    return this.add('borders', xml);
  }

  addFormat(code: string): number {
    const known = builtIn.get(code) ?? this.formats.get(code);
    if (known !== undefined) return known;
    const id = this.nextFormat;
    this.nextFormat += 1;
    this.formats.set(code, id);
    this.newFormats.push([id, code]);
    return id;
  }

  /** Number of cell styles now. */
  get count(): number {
    return this.lists.get('cellXfs')?.items.length ?? 0;
  }

  /** The XML of font, fill, border or cell style `place`; empty where there is none. */
  item(name: ListName, place: number): string {
    return this.lists.get(name)?.items[place] ?? '';
  }

  xf(place: number): XfParts {
    const xml = this.item('cellXfs', place);
    let attributes: Readonly<Record<string, string>> = {};
    let inner: Span = { start: 0, end: 0 };
    if (xml === '') return { attributes: { xfId: '0' }, inner: '' };
    // Prefixes of extensions are declared outside of the piece; they are not looked up here.
    scanXml(xml, this.where, {
      open: (tag) => {
        if (tag.depth === 1) {
          ({ attributes } = tag);
          inner = { start: tag.end, end: tag.end };
        }
      },
      close: (_, start, __, depth) => {
        if (depth === 1) inner = { start: inner.start, end: Math.max(inner.start, start) };
      },
    });
    const isEmpty = xml.slice(0, inner.start).endsWith('/>');
    return { attributes, inner: isEmpty ? '' : xml.slice(inner.start, inner.end) };
  }

  addXf({ attributes, inner }: XfParts): number {
    const written = Object.entries(attributes)
      .map(([name, value]) => ` ${name}="${attributeText(value)}"`)
      .join('');
    const { prefix } = this;
    const end = inner === '' ? '/>' : `>${inner}</${prefix}xf>`;
    return this.add('cellXfs', `<${prefix}xf${written}${end}`);
  }

  private readonly own = new Map<Dress, number>();
  private readonly ownQuoted = new Map<Dress, number>();

  /** The place of a look of ours among the cell styles. `quoted`: its text begins like a formula. */
  ownXf(style: Dress, quoted = false): number {
    const cache = quoted ? this.ownQuoted : this.own;
    const known = cache.get(style);
    if (known !== undefined) return known;
    const { prefix } = this;
    const { font, fill, border, alignment, numFmt = 'General' } = style;
    const place = this.addXf({
      attributes: {
        numFmtId: String(this.addFormat(numFmt)),
        fontId: String(font === undefined ? 0 : this.addFont(fontXml(prefix, font))),
        fillId: String(fill === undefined ? 0 : this.addFill(fillXml(prefix, fill))),
        borderId: String(border === undefined ? 0 : this.addBorder(borderXml(prefix, border))),
        xfId: '0',
        ...(quoted ? { quotePrefix: '1' } : {}),
        applyNumberFormat: '1',
        applyFont: '1',
        applyFill: '1',
        applyBorder: '1',
        applyAlignment: '1',
      },
      inner: alignmentXml(prefix, alignment),
    });
    cache.set(style, place);
    return place;
  }

  private placeOf(name: string): number {
    const rank = sectionOrder.indexOf(name);
    let place = this.sections[0]?.start ?? this.rootEnd;
    for (const section of this.sections) {
      if (sectionOrder.indexOf(section.name) <= rank) place = section.end;
    }
    return place;
  }

  private grown(name: string, total: number, added: readonly string[]): Splice | null {
    if (added.length === 0) return null;
    const { prefix } = this;
    const section = this.sections.find((one) => one.name === name);
    if (section === undefined) {
      const at = this.placeOf(name);
      const text = `<${prefix}${name} count="${total}">${added.join('')}</${prefix}${name}>`;
      return { start: at, end: at, text };
    }
    const { start, end, tagEnd, isEmpty } = section;
    const tag = withAttribute(this.text.slice(start, tagEnd), 'count', String(total));
    const open = tag.replace(/\s*\/>$/, '>');
    const inner = isEmpty ? '' : this.text.slice(tagEnd, this.text.lastIndexOf('<', end - 1));
    return { start, end, text: `${open}${inner}${added.join('')}</${prefix}${name}>` };
  }

  /** The part with everything that was added; the very same text where nothing was. */
  write(): string {
    const formats = this.newFormats.map(
      ([id, code]) =>
        `<${this.prefix}numFmt numFmtId="${id}" formatCode="${attributeText(code)}"/>`,
    );
    const total = this.formatCount + formats.length;
    const splices = [this.grown('numFmts', total, formats)];
    for (const [name, { items, before }] of this.lists) {
      splices.push(this.grown(name, items.length, items.slice(before)));
    }
    return splice(
      this.text,
      splices.filter((one) => one !== null),
    );
  }
}
