import { counted, READ_LIMITS } from './read-limits.ts';
import { GET_A_FRESH_COPY, MAKE_IT_SMALLER, refuse } from './refusal.ts';
import { ENTRY_SIGNATURE, FULL32, findDirectory, refuseDamaged } from './zip-end.ts';
import { guardLayout } from './zip-layout.ts';

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

/** Key of a part: parts are compared without case (ECMA-376 part 2, 6.2.2). */
export function partKey(name: string): string {
  return name.replaceAll('\\', '/').replace(/^\/+/, '').toLowerCase();
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

/** The name of the entry at a place of the directory, as written. */
function nameAt(view: DataView, at: number): string {
  const length = view.getUint16(at + 28, true);
  return Buffer.from(view.buffer, view.byteOffset + at + 46, length).toString('utf8');
}

function readEntry(view: DataView, at: number): ZipEntry {
  const extra = at + 46 + view.getUint16(at + 28, true);
  const [size = 0, packedSize = 0, headerOffset = 0] = widened(
    view,
    extra,
    view.getUint16(at + 30, true),
    [view.getUint32(at + 24, true), view.getUint32(at + 20, true), view.getUint32(at + 42, true)],
  );
  return {
    name: nameAt(view, at).replaceAll('\\', '/'),
    flags: view.getUint16(at + 8, true),
    method: view.getUint16(at + 10, true),
    crc32: view.getUint32(at + 16, true),
    packedSize,
    size,
    headerOffset,
  };
}

function refuseSecond(first: ZipEntry, second: ZipEntry, fileName: string): never {
  const same = first.name === second.name;
  refuse(
    same ? 'duplicate-part' : 'part-names-alike',
    same
      ? `The part ${first.name} stands in the file twice, so it is not clear which one counts.`
      : `The names of the parts ${first.name} and ${second.name} differ only in case or in the slash they begin with, so it is not clear which one counts.`,
    fileName,
    GET_A_FRESH_COPY,
  );
}

function refuseName(name: string, fileName: string): never {
  const shown = name.length > 80 ? `${name.slice(0, 80)}…` : name;
  refuse(
    'part-name',
    `The file holds a part named ${shown.replace(/\p{Cc}/gu, '?')}, which would lie outside of it.`,
    fileName,
    'Open the file only if you trust its sender; save it again in a spreadsheet program first.',
  );
}

/** Names that lead out of the container: `../x`, `a/../../x`, `C:\x`. */
const LEADS_OUT = /(^|\/)\.\.(\/|$)|^[A-Za-z]:/;

/** Odd but harmless ways of writing a container, told once each. */
class Oddities {
  #slashes = 0;
  #rooted = 0;

  see(name: string): void {
    if (name.includes('\\')) this.#slashes++;
    if (/^[\\/]/.test(name)) this.#rooted++;
  }

  tell(remarks: string[]): void {
    const names = (count: number) =>
      count === 1 ? 'The name of 1 part is' : `The names of ${counted(count)} parts are`;
    if (this.#slashes > 0) {
      remarks.push(`${names(this.#slashes)} written with backslashes; read as folders.`);
    }
    if (this.#rooted > 0) {
      remarks.push(`${names(this.#rooted)} written with a slash in front; read without it.`);
    }
  }
}

/**
 * Reads the directory at the end of a zip container; inflates nothing.
 * @param remarks takes what is odd but harmless
 * @returns entries by `partKey`, folders left out
 * @throws RefusalError `cut-off`, `zip-…`, `duplicate-part`, `part-name` and its kin
 */
export function readZipDirectory(
  bytes: Uint8Array,
  fileName: string,
  remarks: string[] = [],
): Map<string, ZipEntry> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const span = findDirectory(bytes, fileName);
  const entries = new Map<string, ZipEntry>();
  const oddities = new Oddities();
  const directoryEnd = span.start + span.size;
  let seen = 0;
  for (let at = span.start; at < directoryEnd; ) {
    if (at + 46 > directoryEnd || view.getUint32(at, true) !== ENTRY_SIGNATURE) {
      refuseDamaged(fileName, 'its table of contents cannot be followed');
    }
    const lengths = [28, 30, 32].map((offset) => view.getUint16(at + offset, true));
    const next = lengths.reduce((sum, length) => sum + length, at + 46);
    if (next > directoryEnd) {
      refuseDamaged(fileName, 'an entry of its table of contents is cut', 'zip-entry-cut');
    }
    if (++seen > READ_LIMITS.zipEntries) {
      refuse(
        'zip-entries',
        `The file holds more than ${counted(READ_LIMITS.zipEntries)} parts, more than any schedule needs.`,
        fileName,
        MAKE_IT_SMALLER,
      );
    }
    const entry = readEntry(view, at);
    if (LEADS_OUT.test(entry.name)) refuseName(entry.name, fileName);
    oddities.see(nameAt(view, at));
    at = next;
    const key = partKey(entry.name);
    if (key.endsWith('/')) continue;
    const first = entries.get(key);
    if (first) refuseSecond(first, entry, fileName);
    entries.set(key, entry);
  }
  if (span.count !== undefined && span.count !== seen) {
    const says = `its table of contents has ${counted(seen)} entries, not ${counted(span.count)} as it says`;
    refuseDamaged(fileName, says, 'zip-count');
  }
  guardLayout(entries, span.start, fileName);
  oddities.tell(remarks);
  if (span.end < bytes.length) {
    const bytesMore = counted(bytes.length - span.end);
    remarks.push(`${bytesMore} bytes behind the end of the workbook were left out.`);
  }
  return entries;
}
