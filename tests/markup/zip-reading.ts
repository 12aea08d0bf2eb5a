/** A zip container taken apart here, by APPNOTE.TXT alone, so that the program does not check itself. */
import { crc32, inflateRawSync } from 'node:zlib';

export interface ReadEntry {
  readonly name: string;
  /** As packed. */
  readonly packed: Buffer;
  /** Local header with name and extra field, its offset aside: it holds none. */
  readonly localHeader: Buffer;
  /** Record of the directory with the offset set to 0. */
  readonly directoryRecord: Buffer;
  readonly content: Buffer;
}

export interface ReadZip {
  readonly entries: readonly ReadEntry[];
  readonly comment: string;
}

/** Entries in the order of the directory, contents checked against size and CRC. */
export function readZip(bytes: Uint8Array): ReadZip {
  const file = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const end = file.lastIndexOf(Buffer.from([0x50, 0x4b, 5, 6]));
  const count = file.readUInt16LE(end + 10);
  let at = file.readUInt32LE(end + 16);
  const entries: ReadEntry[] = [];
  for (let i = 0; i < count; i += 1) {
    if (file.readUInt32LE(at) !== 0x02014b50) throw new Error(`no record at ${at}`);
    const [nameLength, extraLength, commentLength] = [28, 30, 32].map((o) =>
      file.readUInt16LE(at + o),
    );
    const length = 46 + (nameLength ?? 0) + (extraLength ?? 0) + (commentLength ?? 0);
    const record = Buffer.from(file.subarray(at, at + length));
    const name = record.subarray(46, 46 + (nameLength ?? 0)).toString('utf8');
    const method = record.readUInt16LE(10);
    const packedSize = record.readUInt32LE(20);
    const local = record.readUInt32LE(42);
    record.writeUInt32LE(0, 42);
    if (file.readUInt32LE(local) !== 0x04034b50) throw new Error(`${name}: no local header`);
    const start = local + 30 + file.readUInt16LE(local + 26) + file.readUInt16LE(local + 28);
    const packed = Buffer.from(file.subarray(start, start + packedSize));
    const content = method === 0 ? packed : inflateRawSync(packed);
    if (content.length !== record.readUInt32LE(24)) throw new Error(`${name}: size`);
    if (crc32(content) !== record.readUInt32LE(16)) throw new Error(`${name}: checksum`);
    entries.push({
      name,
      packed,
      localHeader: Buffer.from(file.subarray(local, start)),
      directoryRecord: record,
      content,
    });
    at += length;
  }
  return { entries, comment: file.subarray(end + 22).toString('latin1') };
}

/** Contents by name without a leading slash. */
export function contentsOf(bytes: Uint8Array): Map<string, string> {
  return new Map(
    readZip(bytes).entries.map(({ name, content }) => [
      name.replace(/^\//, ''),
      content.toString('utf8'),
    ]),
  );
}
