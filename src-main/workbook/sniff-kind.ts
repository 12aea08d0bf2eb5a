import { markupKind } from './sniff-markup.ts';
import { isZipBehindSomething } from './zip-end.ts';

/** What the first bytes (and for old containers, the names inside) say a file is. */
export type SniffedKind =
  | 'empty'
  | 'blank'
  | 'zip'
  | 'empty-zip'
  | 'zip-behind'
  | 'old-workbook'
  | 'encrypted'
  | 'old-office'
  | 'old-container'
  | 'pdf'
  | 'rtf'
  | 'picture'
  | 'archive'
  | 'html'
  | 'xml-workbook'
  | 'xml-file'
  | 'json'
  | 'binary'
  | 'text-nul'
  | 'text';

const OLE_HEAD = [0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1];

/** First bytes of kinds that need no second look, by their published formats. */
const HEADS: readonly (readonly [kind: SniffedKind, head: readonly number[], at?: number])[] = [
  ['zip', [0x50, 0x4b, 3, 4]],
  ['zip', [0x50, 0x4b, 7, 8]],
  ['empty-zip', [0x50, 0x4b, 5, 6]],
  ['picture', [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]],
  ['picture', [0xff, 0xd8, 0xff]],
  ['picture', [0x47, 0x49, 0x46, 0x38]],
  ['picture', [0x49, 0x49, 0x2a, 0]],
  ['picture', [0x4d, 0x4d, 0, 0x2a]],
  ['picture', [0x57, 0x45, 0x42, 0x50], 8],
  ['archive', [0x1f, 0x8b]],
  ['archive', [0x37, 0x7a, 0xbc, 0xaf, 0x27, 0x1c]],
  ['archive', [0x52, 0x61, 0x72, 0x21, 0x1a, 7]],
  ['archive', [0xfd, 0x37, 0x7a, 0x58, 0x5a, 0]],
  ['archive', [0x42, 0x5a, 0x68, 0x39, 0x31, 0x41, 0x59]],
  ['archive', [0x28, 0xb5, 0x2f, 0xfd]],
  ['archive', [0x75, 0x73, 0x74, 0x61, 0x72], 257],
];

function startsWith(bytes: Uint8Array, head: readonly number[], at = 0): boolean {
  return head.every((byte, place) => bytes[at + place] === byte);
}

/** True for the two byte order marks of UTF-16. */
export function hasUtf16Mark(bytes: Uint8Array): boolean {
  return startsWith(bytes, [0xff, 0xfe]) || startsWith(bytes, [0xfe, 0xff]);
}

function oleKind(bytes: Uint8Array): SniffedKind {
  // Names of streams stand in the container's directory as UTF-16LE ([MS-CFB] 2.6.1).
  const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const holds = (name: string) => buffer.includes(Buffer.from(name, 'utf16le'));
  if (holds('EncryptedPackage') || holds('EncryptionInfo')) return 'encrypted';
  if (holds('WordDocument') || holds('PowerPoint Document')) return 'old-office';
  return holds('Workbook') || holds('Book\0') ? 'old-workbook' : 'old-container';
}

/** A workbook stream without container, as programs before 1995 wrote it ([MS-XLS] 2.4.21, BOF). */
function isBareOldWorkbook(bytes: Uint8Array): boolean {
  const [first, version, length, lengthHigh] = bytes;
  if (first !== 0x09 || length === undefined || lengthHigh !== 0) return false;
  return [0, 2, 4, 8].includes(version ?? -1) && length >= 4 && length <= 16;
}

/** Which byte order a text of two-byte signs without a mark has, judged by where its zeros stand. */
export function unmarkedUtf16(bytes: Uint8Array): 'utf-16le' | 'utf-16be' | undefined {
  const sample = bytes.subarray(0, 4_096);
  const zeros = [0, 0];
  for (const [at, byte] of sample.entries())
    if (byte === 0) zeros[at & 1] = (zeros[at & 1] ?? 0) + 1;
  const [even = 0, odd = 0] = zeros;
  const many = sample.length * 0.4;
  if (sample.length < 8 || bytes.length % 2 !== 0) return undefined;
  if (odd > many && even === 0) return 'utf-16le';
  return even > many && odd === 0 ? 'utf-16be' : undefined;
}

/** Text, text with some NUL characters in it, or no text. */
function textKind(bytes: Uint8Array): 'text' | 'text-nul' | 'binary' {
  const sample = bytes.subarray(0, 65_536);
  let controls = 0;
  let zeros = 0;
  for (const byte of sample) {
    if (byte === 0) zeros++;
    else if (byte < 32 && byte !== 9 && byte !== 10 && byte !== 13 && byte !== 12) controls++;
  }
  if (controls > sample.length * 0.005 || zeros > sample.length * 0.1) return 'binary';
  return zeros > 0 || bytes.includes(0) ? 'text-nul' : 'text';
}

/** Blanks only, in any of the encodings: a NUL is half of a two-byte blank. */
function isBlank(bytes: Uint8Array): boolean {
  return bytes.every((byte) => byte === 32 || byte === 0 || (byte >= 9 && byte <= 13));
}

/** The bytes behind a byte order mark. */
function unmarked(bytes: Uint8Array): Uint8Array {
  if (hasUtf16Mark(bytes)) return bytes.subarray(2);
  return startsWith(bytes, [0xef, 0xbb, 0xbf]) ? bytes.subarray(3) : bytes;
}

/**
 * Tells what a file is by its bytes alone.
 * @param bytes the whole file
 */
export function sniffKind(bytes: Uint8Array): SniffedKind {
  if (bytes.length === 0) return 'empty';
  const known = HEADS.find(([, head, at]) => startsWith(bytes, head, at));
  if (known) return known[0];
  if (startsWith(bytes, OLE_HEAD)) return oleKind(bytes);
  if (isBareOldWorkbook(bytes)) return 'old-workbook';
  const content = unmarked(bytes);
  const head = Buffer.from(content.subarray(0, 4_096)).toString('latin1');
  if (head.startsWith('%PDF-')) return 'pdf';
  if (head.startsWith('{\\rtf')) return 'rtf';
  if (isZipBehindSomething(bytes)) return 'zip-behind';
  if (isBlank(content)) return content.includes(32) || !content.includes(0) ? 'blank' : 'binary';
  if (hasUtf16Mark(bytes) || unmarkedUtf16(bytes)) return 'text';
  return markupKind(head, content) ?? textKind(bytes);
}
