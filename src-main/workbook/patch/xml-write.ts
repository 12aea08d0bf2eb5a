/** Pieces of XML as text. */
import { storedText } from '../stored-text.ts';

const marks: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  '\n': '&#10;',
  '\t': '&#9;',
  '\r': '&#13;',
};

/** Text of an attribute. */
export function attributeText(text: string): string {
  return text.replace(/[&<>"\n\t\r]/g, (mark) => marks[mark] ?? mark);
}

/** Text of an element. */
export function elementText(text: string): string {
  return text.replace(/[&<>\r]/g, (mark) => marks[mark] ?? mark);
}

/** Text of a cell or note, with the escapes ECMA-376 has for what XML cannot hold. */
export function cellText(text: string): string {
  return elementText(storedText(text));
}

/** An opening tag as written, with one attribute set anew, or taken away for null. */
export function withAttribute(tag: string, name: string, value: string | null): string {
  const written = value === null ? '' : ` ${name}="${attributeText(value)}"`;
  const found = new RegExp(`\\s${name}\\s*=\\s*("[^"]*"|'[^']*')`).exec(tag);
  if (found !== null) {
    return tag.slice(0, found.index) + written + tag.slice(found.index + found[0].length);
  }
  if (value === null) return tag;
  const end = /\s*\/?>$/.exec(tag)?.index ?? tag.length;
  return tag.slice(0, end) + written + tag.slice(end);
}

/** A change of a text: what stands from `start` to `end` is replaced. */
export interface Splice {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

const isInsertion = ({ start, end }: Splice): number => (start === end ? 0 : 1);

/**
 * All changes at once, in one pass. They must not overlap; at one place insertions come before what is
 * replaced, and keep their order.
 */
export function splice(text: string, splices: readonly Splice[]): string {
  const sorted = splices
    .map((one, order) => ({ ...one, order }))
    .sort((a, b) => a.start - b.start || isInsertion(a) - isInsertion(b) || a.order - b.order);
  const pieces: string[] = [];
  let from = 0;
  for (const { start, end, text: put } of sorted) {
    pieces.push(text.slice(from, start), put);
    from = end;
  }
  pieces.push(text.slice(from));
  return pieces.join('');
}

const entities: Readonly<Record<string, string>> = {
  amp: '&',
  lt: '<',
  gt: '>',
  quot: '"',
  apos: "'",
};

/** Text of an element as it stands in a part, with its entities and CDATA sections read. */
export function decodedText(written: string): string {
  if (!written.includes('&') && !written.includes('<')) return written;
  return written
    .replace(/<!\[CDATA\[([\s\S]*?)\]\]>/g, (_, inner: string) => inner.replaceAll('&', '&amp;'))
    .replace(/&(?:#x([0-9A-Fa-f]+)|#(\d+)|(\w+));/g, (whole, hex, digits, name) => {
      if (hex !== undefined) return String.fromCodePoint(Number.parseInt(hex, 16));
      if (digits !== undefined) return String.fromCodePoint(Number(digits));
      return entities[name as string] ?? whole;
    });
}
