/** What the first bytes (and for old containers, the names inside) say a file is. */
export type SniffedKind =
  | 'empty'
  | 'zip'
  | 'empty-zip'
  | 'old-workbook'
  | 'encrypted'
  | 'old-office'
  | 'pdf'
  | 'rtf'
  | 'html'
  | 'xml'
  | 'binary'
  | 'text';

const OLE_HEAD = [0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1];

function startsWith(bytes: Uint8Array, head: readonly number[]): boolean {
  return head.every((byte, at) => bytes[at] === byte);
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
  return 'old-workbook';
}

/** A workbook stream without container, as programs before 1995 wrote it ([MS-XLS] 2.4.21, BOF). */
function isBareOldWorkbook(bytes: Uint8Array): boolean {
  const [first, version, length, lengthHigh] = bytes;
  if (first !== 0x09 || length === undefined || lengthHigh !== 0) return false;
  return [0, 2, 4, 8].includes(version ?? -1) && length >= 4 && length <= 16;
}

function looksBinary(bytes: Uint8Array): boolean {
  const sample = bytes.subarray(0, 65_536);
  let controls = 0;
  for (const byte of sample) {
    if (byte === 0) return true;
    if (byte < 32 && byte !== 9 && byte !== 10 && byte !== 13 && byte !== 12) controls++;
  }
  return controls > sample.length * 0.005 || bytes.includes(0);
}

/**
 * Tells what a file is by its bytes alone.
 * @param bytes the whole file
 */
export function sniffKind(bytes: Uint8Array): SniffedKind {
  if (bytes.length === 0) return 'empty';
  if (startsWith(bytes, [0x50, 0x4b, 3, 4])) return 'zip';
  if (startsWith(bytes, [0x50, 0x4b, 5, 6])) return 'empty-zip';
  if (startsWith(bytes, OLE_HEAD)) return oleKind(bytes);
  if (isBareOldWorkbook(bytes)) return 'old-workbook';
  const head = Buffer.from(bytes.subarray(0, 1024)).toString('latin1').replace(/^ï»¿/, '');
  if (head.startsWith('%PDF-')) return 'pdf';
  if (head.startsWith('{\\rtf')) return 'rtf';
  if (hasUtf16Mark(bytes)) return bytes.length > 2 ? 'text' : 'empty';
  const opening = head.trimStart().toLowerCase();
  if (/^(<!--|<!doctype html|<html|<head|<body|<table|<meta)/.test(opening)) return 'html';
  if (opening.startsWith('<?xml')) return /<html[\s>]/.test(opening) ? 'html' : 'xml';
  if (looksBinary(bytes)) return 'binary';
  return head.trim() === '' && Buffer.from(bytes).toString('latin1').trim() === ''
    ? 'empty'
    : 'text';
}
