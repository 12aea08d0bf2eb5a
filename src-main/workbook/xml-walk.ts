import { SaxesParser } from 'saxes';
import { counted, READ_LIMITS } from './read-limits.ts';
import { GET_A_FRESH_COPY, RefusalError, refuse } from './refusal.ts';
import { refuseBytes, xmlDecoder } from './xml-decode.ts';
import { refuseBrokenXml } from './xml-faults.ts';

/** Attributes of an element by their name as written. Has no prototype, so any name is plain. */
export type XmlAttributes = Readonly<Record<string, string>>;

/** What happens on the way through a part. Names come without prefix. */
export interface XmlHandler {
  open(name: string, attributes: XmlAttributes): void;
  close?(name: string): void;
  text?(text: string): void;
}

/** What a part should be: the name of its outermost element, and what that means to a person. */
export interface XmlRoot {
  readonly name: string;
  readonly holds: string;
}

const CHUNK_BYTES = 65_536;
const TRUST_THE_SENDER =
  'Open the file only if you trust its sender; save it again in a spreadsheet program first.';

function localName(name: string): string {
  const colon = name.indexOf(':');
  return colon < 0 ? name : name.slice(colon + 1);
}

/** The value of an attribute by its name without prefix: finds `r:id`, `x:id` and `id` alike. */
export function attributeOf(attributes: XmlAttributes, name: string): string | undefined {
  const plain = attributes[name];
  if (plain !== undefined) return plain;
  for (const key of Object.keys(attributes)) {
    if (localName(key) === name) return attributes[key];
  }
  return undefined;
}

/** An `xsd:boolean` attribute: `1`, `true` and `on` are true; a missing one is `missing`. */
export function isOn(value: string | undefined, missing = false): boolean {
  return value === undefined ? missing : /^(1|true|on)$/i.test(value.trim());
}

function refuseRoot(found: string, root: XmlRoot, where: string): never {
  const name = found.length > 40 ? `${found.slice(0, 40)}…` : found;
  refuse(
    'wrong-part',
    `A part that should hold ${root.holds} holds something else (${name}).`,
    where,
    GET_A_FRESH_COPY,
  );
}

/** A parser that hands on elements and text, and refuses what no workbook has. */
function parserFor(where: string, handler: XmlHandler, root: XmlRoot | undefined): SaxesParser {
  const parser = new SaxesParser({ xmlns: false, position: false });
  let depth = 0;
  let attributes = 0;
  parser.on('doctype', () => {
    refuse(
      'doctype',
      'The workbook carries a document type declaration, which can hide foreign content.',
      where,
      TRUST_THE_SENDER,
    );
  });
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('attribute', () => {
    if (++attributes <= READ_LIMITS.xmlAttributes) return;
    const limit = counted(READ_LIMITS.xmlAttributes);
    const what = `An element of the workbook has more than ${limit} attributes.`;
    refuse('xml-attributes', what, where, TRUST_THE_SENDER);
  });
  parser.on('opentag', (tag) => {
    attributes = 0;
    const name = localName(tag.name);
    if (++depth === 1 && root && name !== root.name) refuseRoot(name, root, where);
    if (depth > READ_LIMITS.xmlDepth) {
      const what = `A part of the workbook is nested more than ${counted(READ_LIMITS.xmlDepth)} levels deep.`;
      refuse('xml-depth', what, where, TRUST_THE_SENDER);
    }
    handler.open(name, tag.attributes);
  });
  parser.on('closetag', (tag) => {
    depth--;
    handler.close?.(localName(tag.name));
  });
  const onText = (text: string) => handler.text?.(text);
  parser.on('text', onText);
  parser.on('cdata', onText);
  return parser;
}

/** Counts the signs since the last `<`: a parser keeps a piece whole until it ends. */
class PieceGuard {
  #length = 0;

  see(text: string, where: string): void {
    const last = text.lastIndexOf('<');
    this.#length = last < 0 ? this.#length + text.length : text.length - last;
    if (this.#length <= READ_LIMITS.xmlPiece) return;
    const limit = counted(READ_LIMITS.xmlPiece);
    const what = `A part of the workbook holds a single piece of more than ${limit} characters.`;
    refuse('xml-piece', what, where, TRUST_THE_SENDER);
  }
}

/**
 * Walks an XML part in pieces. Prefixes are dropped, whatever their namespace.
 * @param where file and part, for messages
 * @param root what the part must be; anything when left out
 * @throws RefusalError `doctype`, `wrong-part`, `xml` and its kin
 */
export function walkXml(
  bytes: Uint8Array,
  where: string,
  handler: XmlHandler,
  root?: XmlRoot,
): void {
  const parser = parserFor(where, handler, root);
  const decoder = xmlDecoder(bytes, where);
  const guard = new PieceGuard();
  const decoded = (piece?: Uint8Array): string => {
    try {
      return piece ? decoder.decode(piece, { stream: true }) : decoder.decode();
    } catch {
      return refuseBytes(decoder, where);
    }
  };
  try {
    for (let at = 0; at < bytes.length; at += CHUNK_BYTES) {
      const text = decoded(bytes.subarray(at, at + CHUNK_BYTES));
      guard.see(text, where);
      parser.write(text);
    }
    parser.write(decoded());
    parser.close();
  } catch (error) {
    if (error instanceof RefusalError) throw error;
    refuseBrokenXml(error, bytes.length, parser, where);
  }
}
