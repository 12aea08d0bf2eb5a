/** A zip container written anew: untouched entries as they stood, changed ones packed anew. */
import { crc32, deflateRawSync } from 'node:zlib';
import { partKey } from '../zip-directory.ts';
import { HEAD_LENGTH, type RawEntry, type RawZip, viewOf, wideOffsetAt } from './zip-entries.ts';

/** 1 January 1980, the earliest a zip can hold: the same bytes at every run. */
const DOS_DATE = 0x0021;
const UTF8_NAME = 0x0800;

export interface ZipChanges {
  /** New content by `partKey`, for entries that are there. */
  readonly changed: ReadonlyMap<string, Uint8Array>;
  /** Keys of entries that are left out. */
  readonly removed: ReadonlySet<string>;
  /** Entries to come behind the others, in order. */
  readonly added: readonly { readonly name: string; readonly content: Uint8Array }[];
}

interface Written {
  readonly head: Uint8Array;
  readonly body: Uint8Array;
}

/** Extra fields without the one of 64-bit values, which no longer fits. */
function extraWithoutWide(extra: Uint8Array): Uint8Array {
  const view = viewOf(extra);
  const kept: Uint8Array[] = [];
  for (let at = 0; at + 4 <= extra.length; ) {
    const next = at + 4 + view.getUint16(at + 2, true);
    if (view.getUint16(at, true) !== 1) kept.push(extra.subarray(at, next));
    at = next;
  }
  return Buffer.concat(kept);
}

/** Time, name and attributes of an entry, from its directory record or made new. */
interface About {
  readonly name: Uint8Array;
  readonly flags: number;
  readonly time: number;
  readonly date: number;
  readonly madeBy: number;
  readonly extra: Uint8Array;
  readonly comment: Uint8Array;
  readonly inner: number;
  readonly outer: number;
}

function aboutOf({ head }: RawEntry): About {
  const view = viewOf(head);
  const [nameLength, extraLength] = [view.getUint16(28, true), view.getUint16(30, true)];
  const extraAt = HEAD_LENGTH + nameLength;
  return {
    name: head.subarray(HEAD_LENGTH, extraAt),
    flags: view.getUint16(8, true) & UTF8_NAME,
    time: view.getUint16(12, true),
    date: view.getUint16(14, true),
    madeBy: view.getUint16(4, true),
    extra: extraWithoutWide(head.subarray(extraAt, extraAt + extraLength)),
    comment: head.subarray(extraAt + extraLength),
    inner: view.getUint16(36, true),
    outer: view.getUint32(38, true),
  };
}

function aboutNew(name: string): About {
  const none = new Uint8Array();
  const bytes = Buffer.from(name, 'utf8');
  const flags = bytes.length === name.length ? 0 : UTF8_NAME;
  const empty = { extra: none, comment: none, inner: 0, outer: 0 };
  return { name: bytes, flags, time: 0, date: DOS_DATE, madeBy: 20, ...empty };
}

/** Parts from this size on are packed quicker and a little less tightly. */
const LARGE_PART = 8_000_000;

function packed(about: About, content: Uint8Array): Written {
  const data = deflateRawSync(content, { level: content.length < LARGE_PART ? 6 : 3 });
  const head = Buffer.alloc(HEAD_LENGTH);
  head.writeUInt32LE(0x02014b50, 0);
  head.writeUInt16LE(about.madeBy, 4);
  head.writeUInt16LE(20, 6);
  head.writeUInt16LE(about.flags, 8);
  head.writeUInt16LE(8, 10);
  head.writeUInt16LE(about.time, 12);
  head.writeUInt16LE(about.date, 14);
  head.writeUInt32LE(crc32(content), 16);
  head.writeUInt32LE(data.length, 20);
  head.writeUInt32LE(content.length, 24);
  head.writeUInt16LE(about.name.length, 28);
  head.writeUInt16LE(about.extra.length, 30);
  head.writeUInt16LE(about.comment.length, 32);
  head.writeUInt16LE(about.inner, 36);
  head.writeUInt32LE(about.outer, 38);
  const local = Buffer.alloc(30);
  local.writeUInt32LE(0x04034b50, 0);
  head.copy(local, 4, 6, 30);
  return {
    head: Buffer.concat([head, about.name, about.extra, about.comment]),
    body: Buffer.concat([local, about.name, data]),
  };
}

/** The directory record with the offset its entry has now. */
function headAt(head: Uint8Array, offset: number): Uint8Array {
  const moved = Uint8Array.from(head);
  const wide = wideOffsetAt(moved);
  if (wide < 0) viewOf(moved).setUint32(42, offset, true);
  else viewOf(moved).setBigUint64(wide, BigInt(offset), true);
  return moved;
}

/**
 * The container with changes made. Entries keep their order, in the file and in the directory; the
 * local header and the packed bytes of an untouched entry are those of `zip`.
 */
export function rewriteZip(zip: RawZip, changes: ZipChanges): Uint8Array {
  const written = zip.entries.map((entry): Written | null => {
    const key = partKey(entry.name);
    if (changes.removed.has(key)) return null;
    const content = changes.changed.get(key);
    return content === undefined ? entry : packed(aboutOf(entry), content);
  });
  const added = changes.added.map(({ name, content }) => packed(aboutNew(name), content));
  const bodies: Uint8Array[] = [];
  const offsets = new Map<Written, number>();
  let offset = 0;
  const put = (entry: Written) => {
    offsets.set(entry, offset);
    bodies.push(entry.body);
    offset += entry.body.length;
  };
  for (const place of zip.order) {
    const entry = written[place];
    if (entry !== null && entry !== undefined) put(entry);
  }
  for (const entry of added) put(entry);
  const all = [...written.filter((entry) => entry !== null), ...added];
  const heads = all.map((entry) => headAt(entry.head, offsets.get(entry) ?? 0));
  const size = heads.reduce((sum, head) => sum + head.length, 0);
  const end = Buffer.alloc(22);
  end.writeUInt32LE(0x06054b50, 0);
  end.writeUInt16LE(all.length, 8);
  end.writeUInt16LE(all.length, 10);
  end.writeUInt32LE(size, 12);
  end.writeUInt32LE(offset, 16);
  end.writeUInt16LE(zip.comment.length, 20);
  const whole = Buffer.concat([...bodies, ...heads, end, zip.comment]);
  return new Uint8Array(whole.buffer, whole.byteOffset, whole.byteLength);
}
