import { isAscii, isUtf8 } from 'node:buffer';
import { hasUtf16Mark, unmarkedUtf16 } from './sniff-kind.ts';
import { decodeWindows1252 } from './windows-1252.ts';

/** A csv file as UTF-8 without a mark, and what to say about how it was decoded. */
export interface DecodedCsv {
  readonly bytes: Uint8Array;
  readonly remark?: string;
}

const utf8 = (text: string): Uint8Array => Buffer.from(text, 'utf8');

const CUT = 'The file ends within a character: it may be cut off.';

/** The text without a character begun and not finished at its end; undefined for other text. */
function cutUtf8(bytes: Uint8Array): Uint8Array | undefined {
  for (let missing = 1; missing <= 3; missing++) {
    const rest = bytes.subarray(0, -missing);
    const lead = bytes[rest.length] ?? 0;
    // Of plain ASCII before it nobody can tell what the last sign is.
    if (lead >= 0xc2 && isUtf8(rest)) return isAscii(rest) ? undefined : rest;
  }
  return undefined;
}

/**
 * Decodes a csv file: UTF-16 by its mark or by its zeros, else UTF-8, else windows-1252; with a
 * remark where the file does not say so itself. Marks at the start are taken off.
 */
export function decodeCsv(bytes: Uint8Array): DecodedCsv {
  if (hasUtf16Mark(bytes)) {
    const label = bytes[0] === 0xff ? 'utf-16le' : 'utf-16be';
    const whole = bytes.subarray(0, bytes.length - (bytes.length % 2));
    const decoded = { bytes: utf8(new TextDecoder(label).decode(whole)) };
    return whole.length === bytes.length ? decoded : { ...decoded, remark: CUT };
  }
  const unmarked = unmarkedUtf16(bytes);
  if (unmarked !== undefined) {
    return {
      bytes: utf8(new TextDecoder(unmarked).decode(bytes)),
      remark: 'The file does not say how its text is encoded; it was read as UTF-16.',
    };
  }
  const marked = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
  const content = marked ? bytes.subarray(3) : bytes;
  if (isUtf8(content)) return { bytes: content };
  const cut = cutUtf8(content);
  if (cut) return { bytes: cut, remark: CUT };
  return {
    bytes: utf8(decodeWindows1252(bytes)),
    remark:
      'The file is not UTF-8; it was read as windows-1252. Check signs such as ° ² µ Ω and letters with accents.',
  };
}
