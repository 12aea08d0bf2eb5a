import { counted, READ_LIMITS } from './read-limits.ts';
import { GET_A_FRESH_COPY, MAKE_IT_SMALLER, refuse } from './refusal.ts';

/** One entry as the central directory tells it (APPNOTE.TXT 4.3.12). Sizes in bytes. */
export interface ZipEntry {
  /** Name as written, with `/` between folders. */
  readonly name: string;
  readonly flags: number;
  readonly method: number;
  readonly crc32: number;
  readonly packedSize: number;
  readonly size: number;
  readonly headerOffset: number;
}

const END_SIGNATURE = 0x06054b50;
const END64_SIGNATURE = 0x06064b50;
const LOCATOR64_SIGNATURE = 0x07064b50;
const ENTRY_SIGNATURE = 0x02014b50;
const FULL32 = 0xffffffff;

/** Key of a part: parts are compared without case (ECMA-376 part 2, 6.2.2). */
export function partKey(name: string): string {
  return name.replaceAll('\\', '/').replace(/^\/+/, '').toLowerCase();
}

function damaged(fileName: string, detail: string): never {
  refuse('zip-damaged', `The workbook is damaged: ${detail}.`, fileName, GET_A_FRESH_COPY);
}

function findEnd(view: DataView): number | undefined {
  const last = view.byteLength - 22;
  for (let at = last; at >= 0 && at >= last - 0xffff; at--) {
    if (view.getUint32(at, true) !== END_SIGNATURE) continue;
    if (at + 22 + view.getUint16(at + 20, true) <= view.byteLength) return at;
  }
  return undefined;
}

interface DirectorySpan {
  readonly start: number;
  readonly size: number;
}

function directorySpan(view: DataView, end: number): DirectorySpan | undefined {
  const start = view.getUint32(end + 16, true);
  const size = view.getUint32(end + 12, true);
  const many = view.getUint16(end + 10, true) === 0xffff;
  if (start !== FULL32 && size !== FULL32 && !many) return { start, size };
  const locator = end - 20;
  if (locator < 0 || view.getUint32(locator, true) !== LOCATOR64_SIGNATURE) {
    return many && start !== FULL32 ? { start, size } : undefined;
  }
  const end64 = Number(view.getBigUint64(locator + 8, true));
  if (end64 + 56 > view.byteLength || view.getUint32(end64, true) !== END64_SIGNATURE) {
    return undefined;
  }
  return {
    size: Number(view.getBigUint64(end64 + 40, true)),
    start: Number(view.getBigUint64(end64 + 48, true)),
  };
}

/** Sizes and offset that did not fit 32 bits stand in the extra field 0x0001 (APPNOTE.TXT 4.5.3). */
function widened(view: DataView, start: number, length: number, values: number[]): number[] {
  for (let at = start; at + 4 <= start + length; ) {
    const fieldEnd = at + 4 + view.getUint16(at + 2, true);
    if (view.getUint16(at, true) === 1) {
      let from = at + 4;
      return values.map((value) => {
        if (value !== FULL32 || from + 8 > Math.min(fieldEnd, start + length)) return value;
        from += 8;
        return Number(view.getBigUint64(from - 8, true));
      });
    }
    at = fieldEnd;
  }
  return values;
}

function readEntry(view: DataView, at: number, nameLength: number, extraLength: number): ZipEntry {
  const name = Buffer.from(view.buffer, view.byteOffset + at + 46, nameLength).toString('utf8');
  const [size = 0, packedSize = 0, headerOffset = 0] = widened(
    view,
    at + 46 + nameLength,
    extraLength,
    [view.getUint32(at + 24, true), view.getUint32(at + 20, true), view.getUint32(at + 42, true)],
  );
  return {
    name: name.replaceAll('\\', '/'),
    flags: view.getUint16(at + 8, true),
    method: view.getUint16(at + 10, true),
    crc32: view.getUint32(at + 16, true),
    packedSize,
    size,
    headerOffset,
  };
}

/**
 * Reads the directory at the end of a zip container; inflates nothing.
 * @returns entries by `partKey`, folders left out
 * @throws RefusalError `cut-off`, `zip-damaged`, `zip-entries`, `duplicate-part`
 */
export function readZipDirectory(bytes: Uint8Array, fileName: string): Map<string, ZipEntry> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const end = findEnd(view);
  if (end === undefined) {
    refuse(
      'cut-off',
      'The file is cut off: its table of contents, which stands at the end, is missing.',
      fileName,
      'Copy or download the file again; the last copy was not finished.',
    );
  }
  const span = directorySpan(view, end);
  if (!span || span.start + span.size > end)
    damaged(fileName, 'its table of contents is out of place');
  const entries = new Map<string, ZipEntry>();
  const directoryEnd = span.start + span.size;
  let seen = 0;
  for (let at = span.start; at < directoryEnd; ) {
    if (at + 46 > directoryEnd || view.getUint32(at, true) !== ENTRY_SIGNATURE) {
      damaged(fileName, 'its table of contents cannot be followed');
    }
    const nameLength = view.getUint16(at + 28, true);
    const extraLength = view.getUint16(at + 30, true);
    const next = at + 46 + nameLength + extraLength + view.getUint16(at + 32, true);
    if (next > directoryEnd) damaged(fileName, 'an entry of its table of contents is cut');
    if (++seen > READ_LIMITS.zipEntries) {
      refuse(
        'zip-entries',
        `The file holds more than ${counted(READ_LIMITS.zipEntries)} parts, more than any schedule needs.`,
        fileName,
        MAKE_IT_SMALLER,
      );
    }
    const entry = readEntry(view, at, nameLength, extraLength);
    const key = partKey(entry.name);
    if (!key.endsWith('/')) {
      if (entries.has(key)) {
        refuse(
          'duplicate-part',
          `The part ${entry.name} stands in the file twice, so it is not clear which one counts.`,
          fileName,
          GET_A_FRESH_COPY,
        );
      }
      entries.set(key, entry);
    }
    at = next;
  }
  return entries;
}
