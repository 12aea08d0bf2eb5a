/** XML parts with the place of every element, so that the rest can be kept sign by sign. */
import { SaxesParser } from 'saxes';
import { GET_A_FRESH_COPY, refuse } from '../refusal.ts';

/** An element's opening tag. `start` and `end` are places in the text, `end` behind the `>`. */
export interface OpenTag {
  /** As written, with prefix. */
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly start: number;
  readonly end: number;
  /** 1 is the outermost element. */
  readonly depth: number;
  /** Written `<a/>`. */
  readonly isEmpty: boolean;
}

export interface ScanHandler {
  open(tag: OpenTag): void;
  /** `start` is the place of `</a>`; for `<a/>` both places lie behind it. */
  close?(name: string, start: number, end: number, depth: number): void;
  text?(text: string): void;
}

/** Walks a text once. Throws `RefusalError` for broken XML and document type declarations. */
export function scanXml(text: string, where: string, handler: ScanHandler): void {
  const parser = new SaxesParser({ xmlns: false, position: true });
  let depth = 0;
  parser.on('doctype', () => {
    refuse(
      'doctype',
      'The workbook carries a document type declaration, which can hide foreign content.',
      where,
      'Open the file only if you trust its sender; save it again in a spreadsheet program first.',
    );
  });
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('opentag', (tag) => {
    depth += 1;
    const end = parser.position;
    handler.open({
      name: tag.name,
      attributes: tag.attributes,
      start: text.lastIndexOf('<', end - 1),
      end,
      depth,
      isEmpty: tag.isSelfClosing,
    });
  });
  parser.on('closetag', (tag) => {
    const end = parser.position;
    const start = tag.isSelfClosing ? end : text.lastIndexOf('<', end - 1);
    handler.close?.(tag.name, start, end, depth);
    depth -= 1;
  });
  const { text: onText } = handler;
  if (onText !== undefined) {
    parser.on('text', (piece) => onText.call(handler, piece));
    parser.on('cdata', (piece) => onText.call(handler, piece));
  }
  try {
    parser.write(text).close();
  } catch (error) {
    if (error instanceof Error && error.name === 'RefusalError') throw error;
    refuse('xml', 'A part of the workbook is not well-formed XML.', where, GET_A_FRESH_COPY);
  }
}

/** A name without its prefix. */
export function localName(name: string): string {
  return name.slice(name.indexOf(':') + 1);
}

/** `x:` of `x:worksheet`; empty where there is none. */
export function prefixOf(name: string): string {
  return name.slice(0, name.indexOf(':') + 1);
}

/** An attribute by its name without prefix: `r:id`, `rel:id` and `id` alike. */
export function attributeOf(tag: Pick<OpenTag, 'attributes'>, name: string): string | undefined {
  const plain = tag.attributes[name];
  if (plain !== undefined) return plain;
  const key = Object.keys(tag.attributes).find((one) => localName(one) === name);
  return key === undefined ? undefined : tag.attributes[key];
}

/** A text whose outermost element, written `<a/>`, has an end tag, so that something can stand between. */
export function withOpenRoot(text: string, where: string): string {
  let root: OpenTag | undefined;
  scanXml(text, where, {
    open: (tag) => {
      if (tag.depth === 1 && tag.isEmpty) root = tag;
    },
  });
  if (root === undefined) return text;
  const { name, start, end } = root;
  const open = text.slice(start, end).replace(/\s*\/>$/, '>');
  return `${text.slice(0, start)}${open}</${name}>${text.slice(end)}`;
}
