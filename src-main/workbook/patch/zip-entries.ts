/** The entries of a zip container byte for byte, so that untouched ones can be written as they stand. */
import { ENTRY_SIGNATURE, FULL32, findDirectory } from '../zip-end.ts';

/** One entry; `head` is its record of the directory, `body` all from its local header to the next one's. */
export interface RawEntry {
  readonly name: string;
  readonly head: Uint8Array;
  readonly body: Uint8Array;
}

export interface RawZip {
  /** In the order of the directory. */
  readonly entries: readonly RawEntry[];
  /** Places in `entries` in the order in which the bodies stand. */
  readonly order: readonly number[];
  readonly comment: Uint8Array;
}

/** Fixed part of a directory record (APPNOTE.TXT 4.3.12). */
export const HEAD_LENGTH = 46;

export function viewOf(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}

/** Where the field of 64-bit values keeps the offset (APPNOTE.TXT 4.5.3); -1: nowhere. */
export function wideOffsetAt(head: Uint8Array): number {
  const view = viewOf(head);
  if (view.getUint32(42, true) !== FULL32) return -1;
  const before = [24, 20].filter((at) => view.getUint32(at, true) === FULL32).length;
  const start = HEAD_LENGTH + view.getUint16(28, true);
  const end = start + view.getUint16(30, true);
  for (let at = start; at + 4 <= end; at += 4 + view.getUint16(at + 2, true)) {
    if (view.getUint16(at, true) === 1) return at + 4 + 8 * before;
  }
  return -1;
}

function offsetOf(head: Uint8Array): number {
  const at = wideOffsetAt(head);
  return at < 0 ? viewOf(head).getUint32(42, true) : Number(viewOf(head).getBigUint64(at, true));
}

/**
 * All entries, folders too. The container must have passed `readZipDirectory`.
 * @throws RefusalError when there is no directory
 */
export function rawEntries(bytes: Uint8Array, fileName: string): RawZip {
  const span = findDirectory(bytes, fileName);
  const view = viewOf(bytes);
  const heads: Uint8Array[] = [];
  const directoryEnd = span.start + span.size;
  for (let at = span.start; at + HEAD_LENGTH <= directoryEnd; ) {
    if (view.getUint32(at, true) !== ENTRY_SIGNATURE) break;
    const length = [28, 30, 32].reduce((sum, o) => sum + view.getUint16(at + o, true), HEAD_LENGTH);
    heads.push(bytes.subarray(at, at + length));
    at += length;
  }
  const offsets = heads.map(offsetOf);
  const order = heads.map((_, i) => i).sort((a, b) => (offsets[a] ?? 0) - (offsets[b] ?? 0));
  const ends: number[] = [];
  order.forEach((place, i) => {
    const next = order[i + 1];
    ends[place] = next === undefined ? span.start : (offsets[next] ?? span.start);
  });
  const entries = heads.map((head, i): RawEntry => {
    const nameLength = viewOf(head).getUint16(28, true);
    const name = Buffer.from(head.buffer, head.byteOffset + HEAD_LENGTH, nameLength).toString(
      'utf8',
    );
    return { name, head, body: bytes.subarray(offsets[i] ?? 0, ends[i] ?? 0) };
  });
  return { entries, order, comment: commentOf(bytes, span.end) };
}

/** The comment behind the end record: the record that reaches just to `end`. */
function commentOf(bytes: Uint8Array, end: number): Uint8Array {
  const view = viewOf(bytes);
  for (let at = end - 22; at >= Math.max(0, end - 22 - 0xffff); at -= 1) {
    if (
      view.getUint32(at, true) === 0x06054b50 &&
      at + 22 + view.getUint16(at + 20, true) === end
    ) {
      return bytes.subarray(at + 22, end);
    }
  }
  return new Uint8Array();
}
