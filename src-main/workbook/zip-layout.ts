import { GET_A_FRESH_COPY, refuse } from './refusal.ts';

const LOCAL_SIGNATURE = 0x04034b50;
const LOCAL_LENGTH = 30;
const FULL32 = 0xffffffff;
/** Sizes and checksum follow the content (APPNOTE.TXT 4.4.4, bit 3). */
const FOLLOWED = 8;

/** An entry as the directory tells it. Sizes in bytes. */
interface PlacedEntry {
  readonly name: string;
  readonly flags: number;
  readonly method: number;
  readonly crc32: number;
  readonly packedSize: number;
  readonly size: number;
  readonly headerOffset: number;
}

/**
 * Refuses entries that share bytes, as a small file does that unpacks to a huge one.
 * @throws RefusalError `zip-overlap`
 */
export function guardLayout(
  entries: ReadonlyMap<string, PlacedEntry>,
  directoryStart: number,
  fileName: string,
): void {
  const byPlace = [...entries.values()].sort((a, b) => a.headerOffset - b.headerOffset);
  for (const [place, entry] of byPlace.entries()) {
    const next = byPlace[place + 1];
    const limit = next?.headerOffset ?? directoryStart;
    // The local header may be longer than this, never shorter.
    const end = entry.headerOffset + LOCAL_LENGTH + entry.name.length + entry.packedSize;
    if (end <= limit) continue;
    // Beyond the directory: said when the part is read.
    if (!next) return;
    refuse(
      'zip-overlap',
      `The parts ${entry.name} and ${next.name} share bytes of the file, as no workbook's do.`,
      fileName,
      'Open the file only if you trust its sender; save it again in a spreadsheet program first.',
    );
  }
}

/** What is wrong with an entry's place or its local header, in words for behind a colon. */
export type LayoutFault = (code: string, detail: string) => never;

function refuseTwoNames(entry: PlacedEntry, where: string): never {
  refuse(
    'zip-two-headers',
    `The part ${entry.name} is described in two ways that do not agree, so it is not clear what it holds.`,
    where,
    GET_A_FRESH_COPY,
  );
}

/**
 * The packed bytes of an entry. Its local header must say what the directory says.
 * @param where file and part, for messages
 * @param damaged ends the reading with the part's name
 * @throws RefusalError `zip-two-headers`, and what `damaged` throws
 */
export function packedBytes(
  bytes: Uint8Array,
  entry: PlacedEntry,
  where: string,
  damaged: LayoutFault,
): Uint8Array {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const at = entry.headerOffset;
  if (at + LOCAL_LENGTH > bytes.length || view.getUint32(at, true) !== LOCAL_SIGNATURE) {
    damaged('zip-misplaced', 'it does not stand where the table of contents says');
  }
  const nameLength = view.getUint16(at + 26, true);
  const start = at + LOCAL_LENGTH + nameLength + view.getUint16(at + 28, true);
  const end = start + entry.packedSize;
  if (end > bytes.length) damaged('zip-part-cut', 'it is cut off');
  const local = Buffer.from(bytes.buffer, bytes.byteOffset + at + LOCAL_LENGTH, nameLength);
  const flags = view.getUint16(at + 6, true);
  let agrees =
    local.toString('utf8').replaceAll('\\', '/') === entry.name &&
    view.getUint16(at + 8, true) === entry.method &&
    (flags & 1) === (entry.flags & 1);
  if ((flags & FOLLOWED) === 0) {
    const told: readonly (readonly [offset: number, value: number])[] = [
      [14, entry.crc32],
      [18, entry.packedSize],
      [22, entry.size],
    ];
    for (const [offset, value] of told) {
      const here = view.getUint32(at + offset, true);
      agrees &&= here === value || (here === FULL32 && offset > 14);
    }
  }
  if (!agrees) refuseTwoNames(entry, where);
  return bytes.subarray(start, end);
}
