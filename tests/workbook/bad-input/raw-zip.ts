import { crc32, deflateRawSync } from 'node:zlib';

/** Fields of a header after APPNOTE.TXT 4.3.7 and 4.3.12, to be told falsely. */
export interface HeaderFields {
  readonly name: string;
  readonly flags: number;
  readonly method: number;
  readonly crc: number;
  readonly packedSize: number;
  readonly size: number;
  readonly offset: number;
  readonly extra: Uint8Array;
}

/** An entry: its content, and what its two headers say other than the truth. */
export interface RawEntry {
  readonly name: string;
  readonly content: Uint8Array;
  readonly stored?: boolean;
  /** Packed bytes to take in place of the packed content. */
  readonly packed?: Uint8Array;
  readonly both?: Partial<HeaderFields>;
  readonly local?: Partial<HeaderFields>;
  readonly central?: Partial<HeaderFields>;
}

/** What the end record says other than the truth, and what stands around the container. */
export interface RawEnd {
  readonly count?: number;
  readonly size?: number;
  readonly start?: number;
  readonly disk?: number;
  readonly before?: Uint8Array;
  readonly after?: Uint8Array;
  /** Between the parts and the directory. */
  readonly between?: Uint8Array;
}

const numbers = (...fields: readonly (readonly [value: number, bytes: 2 | 4])[]): Buffer =>
  Buffer.concat(
    fields.map(([value, bytes]) => {
      const field = Buffer.alloc(bytes);
      if (bytes === 2) field.writeUInt16LE(value);
      else field.writeUInt32LE(value >>> 0);
      return field;
    }),
  );

function localHeader(f: HeaderFields): Buffer {
  const name = Buffer.from(f.name);
  return Buffer.concat([
    numbers([0x04034b50, 4], [20, 2], [f.flags, 2], [f.method, 2], [0, 4]),
    numbers([f.crc, 4], [f.packedSize, 4], [f.size, 4], [name.length, 2], [f.extra.length, 2]),
    name,
    f.extra,
  ]);
}

function centralHeader(f: HeaderFields): Buffer {
  const name = Buffer.from(f.name);
  return Buffer.concat([
    numbers([0x02014b50, 4], [20, 2], [20, 2], [f.flags, 2], [f.method, 2], [0, 4]),
    numbers([f.crc, 4], [f.packedSize, 4], [f.size, 4], [name.length, 2], [f.extra.length, 2]),
    numbers([0, 2], [0, 2], [0, 2], [0, 4], [f.offset, 4]),
    name,
    f.extra,
  ]);
}

/** A zip container built field by field, so that any of them can lie. */
export function rawZip(entries: readonly RawEntry[], end: RawEnd = {}): Uint8Array {
  const pieces: Uint8Array[] = [];
  const directory: Buffer[] = [];
  let offset = 0;
  const add = (piece: Uint8Array) => {
    pieces.push(piece);
    offset += piece.length;
  };
  for (const { name, content, stored, packed, both, local, central } of entries) {
    const bytes = packed ?? (stored ? content : deflateRawSync(content));
    const truth: HeaderFields = {
      name,
      flags: 0,
      method: stored ? 0 : 8,
      crc: crc32(content),
      packedSize: bytes.length,
      size: content.length,
      offset,
      extra: new Uint8Array(0),
    };
    directory.push(centralHeader({ ...truth, ...both, ...central }));
    add(localHeader({ ...truth, ...both, ...local }));
    add(bytes);
  }
  if (end.between) add(end.between);
  const central = Buffer.concat(directory);
  const count = end.count ?? entries.length;
  const record = numbers(
    [0x06054b50, 4],
    [end.disk ?? 0, 2],
    [end.disk ?? 0, 2],
    [count, 2],
    [count, 2],
    [end.size ?? central.length, 4],
    [end.start ?? offset, 4],
    [0, 2],
  );
  const { before = new Uint8Array(0), after = new Uint8Array(0) } = end;
  return new Uint8Array(Buffer.concat([before, ...pieces, central, record, after]));
}

/** The extra field of 64-bit sizes (APPNOTE.TXT 4.5.3). */
export function wideExtra(...values: readonly bigint[]): Uint8Array {
  const field = Buffer.alloc(4 + 8 * values.length);
  field.writeUInt16LE(1, 0);
  field.writeUInt16LE(8 * values.length, 2);
  for (const [at, value] of values.entries()) field.writeBigUInt64LE(value, 4 + 8 * at);
  return field;
}
