/** A workbook package with changes on the way: parts are read, replaced, added and taken away. */
import { PackageParts } from '../package-parts.ts';
import { relationshipsPartOf, resolveTarget } from '../relationships.ts';
import { xmlDecoder } from '../xml-decode.ts';
import { partKey, readZipDirectory } from '../zip-directory.ts';
import {
  attributeOf,
  localName,
  type OpenTag,
  prefixOf,
  scanXml,
  withOpenRoot,
} from './xml-scan.ts';
import { attributeText, splice } from './xml-write.ts';
import { rawEntries } from './zip-entries.ts';
import { rewriteZip } from './zip-rewrite.ts';

/** A link of a part, as far as it leads to another part. */
export interface Link {
  readonly id: string;
  /** Last word of the type: `worksheet`, `comments`. */
  readonly kind: string;
  /** Part name from the root; empty for one outside. */
  readonly target: string;
}

const declaration = /^<\?xml[^>]*\?>/;
const xmlHead = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';
const linksSpace = 'http://schemas.openxmlformats.org/package/2006/relationships';
const typesSpace = 'http://schemas.openxmlformats.org/package/2006/content-types';
const typesPart = '[Content_Types].xml';

export class PackageEdit {
  readonly fileName: string;
  private readonly bytes: Uint8Array;
  private readonly parts: PackageParts;
  /** Names as written, by key. */
  private readonly names = new Map<string, string>();
  private readonly texts = new Map<string, string>();
  private readonly changed = new Set<string>();
  private readonly removed = new Set<string>();
  private readonly added: string[] = [];
  /** Namespace of links between parts: the strict form of the format has its own. */
  linkTypes = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';

  /** @throws RefusalError for a container that cannot be followed */
  constructor(bytes: Uint8Array, fileName: string) {
    this.bytes = bytes;
    this.fileName = fileName;
    const entries = readZipDirectory(bytes, fileName);
    this.parts = new PackageParts(bytes, entries, fileName);
    for (const [key, { name }] of entries) this.names.set(key, name.replace(/^\/+/, ''));
  }

  where(name: string): string {
    return this.parts.where(name);
  }

  has(name: string): boolean {
    const key = partKey(name);
    return this.names.has(key) && !this.removed.has(key);
  }

  /** Keys of all parts there are now. */
  keys(): string[] {
    return [...this.names.keys()].filter((key) => !this.removed.has(key));
  }

  /** Text of a part as it is now; undefined when there is none. */
  text(name: string): string | undefined {
    const key = partKey(name);
    if (!this.has(name)) return undefined;
    const known = this.texts.get(key);
    if (known !== undefined) return known;
    const bytes = this.parts.read(name);
    if (bytes === undefined) return undefined;
    const text = xmlDecoder(bytes, this.where(name)).decode(bytes);
    this.texts.set(key, text);
    return text;
  }

  /** Sets a part's text: replaced where it is there, else added. Equal text changes nothing. */
  put(name: string, text: string): void {
    const key = partKey(name);
    const isThere = this.names.has(key);
    if (isThere && !this.removed.has(key) && this.text(name) === text) return;
    if (!isThere) {
      this.names.set(key, name);
      this.added.push(key);
    }
    this.removed.delete(key);
    this.texts.set(key, text);
    this.changed.add(key);
  }

  remove(name: string): void {
    if (this.has(name)) this.removed.add(partKey(name));
    if (this.has(relationshipsPartOf(name))) this.removed.add(partKey(relationshipsPartOf(name)));
  }

  /** A part name that is free: `xl/worksheets/sheet` and `.xml` give `xl/worksheets/sheet4.xml`. */
  freeName(before: string, after: string): string {
    let n = 1;
    while (this.names.has(partKey(`${before}${n}${after}`))) n += 1;
    return `${before}${n}${after}`;
  }

  links(source: string): Link[] {
    const part = relationshipsPartOf(source);
    const text = this.text(part);
    if (text === undefined) return [];
    const found: Link[] = [];
    scanXml(text, this.where(part), {
      open: (tag) => {
        if (localName(tag.name) === 'Relationship') found.push(this.linkOf(source, tag));
      },
    });
    return found;
  }

  private linkOf(source: string, tag: OpenTag): Link {
    const { Id = '', Type = '', Target = '', TargetMode = '' } = tag.attributes;
    const isOutside = TargetMode.toLowerCase() === 'external';
    let target = isOutside ? '' : resolveTarget(source, Target);
    if (!isOutside && !this.has(target) && this.has(resolveTarget('', Target))) {
      target = resolveTarget('', Target);
    }
    return { id: Id, kind: Type.split('/').pop() ?? '', target };
  }

  /** Adds a link from `source` to part `target`; gives its id. */
  addLink(source: string, kind: string, target: string): string {
    const part = relationshipsPartOf(source);
    const ids = new Set(this.links(source).map((link) => link.id.toLowerCase()));
    let n = ids.size + 1;
    while (ids.has(`rid${n}`)) n += 1;
    const type = `${this.linkTypes}/${kind}`;
    const text =
      this.text(part) ?? `${xmlHead}<Relationships xmlns="${linksSpace}"></Relationships>`;
    const made = (prefix: string) =>
      `<${prefix}Relationship Id="rId${n}" Type="${type}" Target="/${attributeText(target)}"/>`;
    this.put(part, insertLast(text, made));
    return `rId${n}`;
  }

  removeLink(source: string, id: string): void {
    const part = relationshipsPartOf(source);
    const text = this.text(part);
    if (text !== undefined)
      this.put(
        part,
        without(text, this.where(part), (t) => t.attributes.Id === id),
      );
  }

  /** Says what an added part is. */
  addType(name: string, contentType: string): void {
    const text = this.text(typesPart) ?? `${xmlHead}<Types xmlns="${typesSpace}"></Types>`;
    const made = (prefix: string) =>
      `<${prefix}Override PartName="/${attributeText(name)}" ContentType="${contentType}"/>`;
    this.put(typesPart, insertLast(text, made));
  }

  /** Says what all parts with an ending are, unless it is said already. */
  addDefaultType(ending: string, contentType: string): void {
    const text = this.text(typesPart) ?? `${xmlHead}<Types xmlns="${typesSpace}"></Types>`;
    let isSaid = false;
    scanXml(text, this.where(typesPart), {
      open: (tag) => {
        isSaid ||= attributeOf(tag, 'Extension')?.toLowerCase() === ending;
      },
    });
    if (isSaid) return;
    const made = (prefix: string) =>
      `<${prefix}Default Extension="${ending}" ContentType="${contentType}"/>`;
    this.put(typesPart, insertLast(text, made));
  }

  removeType(name: string): void {
    const text = this.text(typesPart);
    if (text === undefined) return;
    const isOf = (tag: OpenTag) => partKey(attributeOf(tag, 'PartName') ?? '') === partKey(name);
    this.put(typesPart, without(text, this.where(typesPart), isOf));
  }

  /** Takes a part away with its own links and its content type. */
  removeWhole(name: string): void {
    this.remove(name);
    this.removeType(name);
  }

  /** Keys of parts that differ from the original package, or are gone or new. */
  touched(): { changed: string[]; removed: string[]; added: string[] } {
    const isNew = new Set(this.added);
    return {
      changed: [...this.changed].filter((key) => !isNew.has(key) && !this.removed.has(key)),
      removed: [...this.removed].filter((key) => !isNew.has(key)),
      added: this.added.filter((key) => !this.removed.has(key)),
    };
  }

  /** The package as it is now. */
  build(): Uint8Array {
    const { changed, removed, added } = this.touched();
    const content = (key: string) => Buffer.from(inUtf8(this.texts.get(key) ?? ''), 'utf8');
    return rewriteZip(rawEntries(this.bytes, this.fileName), {
      changed: new Map(changed.map((key) => [key, content(key)])),
      removed: new Set(removed),
      added: added.map((key) => ({ name: this.names.get(key) ?? key, content: content(key) })),
    });
  }
}

/** A text whose declaration names another encoding than the one it is written in now. */
function inUtf8(text: string): string {
  const head = declaration.exec(text)?.[0];
  if (head === undefined || /encoding\s*=\s*["']utf-8["']/i.test(head)) return text;
  const said = head.replace(/encoding\s*=\s*("[^"]*"|'[^']*')/, 'encoding="UTF-8"');
  return said + text.slice(head.length);
}

/** A text with one more element, in the prefix of the outermost one, at its end. */
function insertLast(text: string, made: (prefix: string) => string): string {
  const open = withOpenRoot(text, '');
  let prefix = '';
  let at = -1;
  scanXml(open, '', {
    open: (tag) => {
      if (tag.depth === 1) prefix = prefixOf(tag.name);
    },
    close: (_, start, __, depth) => {
      if (depth === 1) at = start;
    },
  });
  return splice(open, [{ start: at, end: at, text: made(prefix) }]);
}

/** A text without the second-level elements `is` picks. */
function without(text: string, where: string, is: (tag: OpenTag) => boolean): string {
  const splices: { start: number; end: number; text: string }[] = [];
  let from = -1;
  scanXml(text, where, {
    open: (tag) => {
      if (tag.depth === 2 && is(tag)) from = tag.start;
    },
    close: (_, __, end, depth) => {
      if (depth !== 2 || from < 0) return;
      splices.push({ start: from, end, text: '' });
      from = -1;
    },
  });
  return splice(text, splices);
}
