/** Text of a csv file, and what to say about how it was decoded. */
export interface DecodedText {
  readonly text: string;
  readonly remark?: string;
}

/**
 * Decodes a csv file: UTF-16 by its mark, else UTF-8, else windows-1252 with a remark.
 * Marks at the start are taken off.
 */
export function decodeCsv(bytes: Uint8Array): DecodedText {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) {
    return { text: new TextDecoder('utf-16le').decode(bytes) };
  }
  if (bytes[0] === 0xfe && bytes[1] === 0xff) {
    return { text: new TextDecoder('utf-16be').decode(bytes) };
  }
  try {
    return { text: new TextDecoder('utf-8', { fatal: true }).decode(bytes) };
  } catch {
    return {
      text: new TextDecoder('windows-1252').decode(bytes),
      remark:
        'The file is not UTF-8; it was read as windows-1252. Check signs such as ° ² µ Ω and letters with accents.',
    };
  }
}
