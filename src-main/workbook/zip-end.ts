import { GET_A_FRESH_COPY, refuse } from './refusal.ts';

/** Where the directory of a zip container stands, and what its end record says of it. */
export interface DirectorySpan {
  readonly start: number;
  readonly size: number;
  /** Entries the end record counts; undefined where it does not say (over 65,534). */
  readonly count: number | undefined;
  /** Place behind the last byte of the container. */
  readonly end: number;
}

const END_SIGNATURE = 0x06054b50;
const END_BYTES = Buffer.from([0x50, 0x4b, 5, 6]);
const END64_SIGNATURE = 0x06064b50;
const LOCATOR64_SIGNATURE = 0x07064b50;
export const ENTRY_SIGNATURE = 0x02014b50;
export const FULL32 = 0xffffffff;
/** More end signatures than any honest file has behind its end. */
const MOST_ENDS = 100;

/** Ends the reading of a damaged container. Throws `RefusalError`. */
export function refuseDamaged(fileName: string, detail: string, code = 'zip-damaged'): never {
  refuse(code, `The workbook is damaged: ${detail}.`, fileName, GET_A_FRESH_COPY);
}

/** Places of end records, the last first. */
function* endsOf(bytes: Uint8Array): Generator<number> {
  const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let at = bytes.length - 21;
  for (let n = 0; n < MOST_ENDS && at > 0; n++) {
    at = buffer.lastIndexOf(END_BYTES, at - 1);
    if (at < 0) return;
    yield at;
  }
}

/** Size and start as the 64-bit end record tells them; undefined when it cannot be followed. */
function wideSpan(view: DataView, end: number): Omit<DirectorySpan, 'end'> | undefined {
  const locator = end - 20;
  if (locator < 0 || view.getUint32(locator, true) !== LOCATOR64_SIGNATURE) return undefined;
  const end64 = Number(view.getBigUint64(locator + 8, true));
  if (end64 + 56 > locator || view.getUint32(end64, true) !== END64_SIGNATURE) return undefined;
  return {
    count: Number(view.getBigUint64(end64 + 32, true)),
    size: Number(view.getBigUint64(end64 + 40, true)),
    start: Number(view.getBigUint64(end64 + 48, true)),
  };
}

/** The span an end record tells (APPNOTE.TXT 4.3.16, 4.3.14); undefined when it cannot be followed. */
function spanAt(view: DataView, at: number): DirectorySpan | undefined {
  const start = view.getUint32(at + 16, true);
  const size = view.getUint32(at + 12, true);
  const count = view.getUint16(at + 10, true);
  const end = Math.min(at + 22 + view.getUint16(at + 20, true), view.byteLength);
  if (start !== FULL32 && size !== FULL32 && count !== 0xffff) return { start, size, count, end };
  const wide = wideSpan(view, at);
  if (wide) return { ...wide, end };
  return start !== FULL32 && size !== FULL32 ? { start, size, count: undefined, end } : undefined;
}

/** Whether a directory stands just before an end record, wherever the record says it starts. */
function directoryBefore(view: DataView, at: number): boolean {
  const start = at - view.getUint32(at + 12, true);
  return start >= 0 && start + 46 <= at && view.getUint32(start, true) === ENTRY_SIGNATURE;
}

/** True for a zip container that does not begin at the first byte of the file. */
export function isZipBehindSomething(bytes: Uint8Array): boolean {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  for (const at of endsOf(bytes)) if (directoryBefore(view, at)) return true;
  return false;
}

/**
 * Finds the directory of a zip container by the end record that fits: whatever stands behind it,
 * and whatever containers stand inside.
 * @throws RefusalError `cut-off`, `zip-split`, `zip-damaged`, `zip-shifted`
 */
export function findDirectory(bytes: Uint8Array, fileName: string): DirectorySpan {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let shifted = false;
  let last: number | undefined;
  for (const at of endsOf(bytes)) {
    last ??= at;
    const span = spanAt(view, at);
    if (span && span.start + span.size <= at) {
      const isEmpty = span.size === 0 && span.count === 0;
      const isThere = span.start + 46 <= at && view.getUint32(span.start, true) === ENTRY_SIGNATURE;
      if (isEmpty || isThere) {
        if (view.getUint16(at + 4, true) !== 0 && view.getUint16(at + 4, true) !== 0xffff) {
          refuseDamaged(fileName, 'it is one of several pieces of a split file', 'zip-split');
        }
        return span;
      }
    }
    shifted ||= directoryBefore(view, at);
  }
  // An end record close to the end that fits nothing is a damaged one; else the end is missing.
  if (shifted) {
    const detail = 'its parts do not stand where its table of contents says';
    refuseDamaged(fileName, `bytes were added or lost, ${detail}`, 'zip-shifted');
  }
  if (last !== undefined && last >= bytes.length - 22 - 0xffff && isEndRecord(view, last)) {
    refuseDamaged(fileName, 'its table of contents is out of place');
  }
  refuse(
    'cut-off',
    'The file is cut off: its table of contents, which stands at the end, is missing.',
    fileName,
    'Copy or download the file again; the last copy was not finished.',
  );
}

/** Whether an end record reaches just to the end of the file, as a true one does. */
function isEndRecord(view: DataView, at: number): boolean {
  return (
    view.getUint32(at, true) === END_SIGNATURE &&
    at + 22 + view.getUint16(at + 20, true) === view.byteLength
  );
}
