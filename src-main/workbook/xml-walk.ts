import { SaxesParser } from 'saxes';
import { counted, READ_LIMITS } from './read-limits.ts';
import { GET_A_FRESH_COPY, RefusalError, refuse } from './refusal.ts';

/** Attributes of an element by their name as written. Has no prototype, so any name is plain. */
export type XmlAttributes = Readonly<Record<string, string>>;

/** What happens on the way through a part. Names come without prefix. */
export interface XmlHandler {
  open(name: string, attributes: XmlAttributes): void;
  close?(name: string): void;
  text?(text: string): void;
}

const CHUNK_BYTES = 65_536;

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

function decoderFor(bytes: Uint8Array): InstanceType<typeof TextDecoder> {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return new TextDecoder('utf-16le');
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return new TextDecoder('utf-16be');
  const head = Buffer.from(bytes.subarray(0, 200)).toString('latin1');
  const label = /^(?:ï»¿)?<\?xml[^>]*\sencoding\s*=\s*["']([\w.:-]+)["']/.exec(head)?.[1];
  try {
    return new TextDecoder(label ?? 'utf-8');
  } catch {
    return new TextDecoder('utf-8');
  }
}

/**
 * Walks an XML part in pieces. Prefixes are dropped, whatever their namespace.
 * @param where file and part, for messages
 * @throws RefusalError `doctype`, `xml`, `xml-depth`
 */
export function walkXml(bytes: Uint8Array, where: string, handler: XmlHandler): void {
  const parser = new SaxesParser({ xmlns: false, position: false });
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
    if (++depth > READ_LIMITS.xmlDepth) {
      refuse(
        'xml-depth',
        `The part is nested more than ${counted(READ_LIMITS.xmlDepth)} levels deep.`,
        where,
        GET_A_FRESH_COPY,
      );
    }
    handler.open(localName(tag.name), tag.attributes);
  });
  parser.on('closetag', (tag) => {
    depth--;
    handler.close?.(localName(tag.name));
  });
  const onText = (text: string) => handler.text?.(text);
  parser.on('text', onText);
  parser.on('cdata', onText);
  try {
    const decoder = decoderFor(bytes);
    for (let at = 0; at < bytes.length; at += CHUNK_BYTES) {
      parser.write(decoder.decode(bytes.subarray(at, at + CHUNK_BYTES), { stream: true }));
    }
    parser.write(decoder.decode());
    parser.close();
  } catch (error) {
    if (error instanceof RefusalError) throw error;
    refuse('xml', 'A part of the workbook is not well-formed XML.', where, GET_A_FRESH_COPY);
  }
}
