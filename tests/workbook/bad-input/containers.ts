import { deflateRawSync } from 'node:zlib';
import { strToU8 } from 'fflate';
import { bad, readAs, refused } from './bad-input.ts';
import {
  adding,
  lying,
  noise,
  rawEntries,
  SHEET,
  STRINGS,
  schedule,
  WORKBOOK,
} from './good-package.ts';
import { rawZip, wideExtra } from './raw-zip.ts';

/** Zip containers that lie about themselves. Fields after APPNOTE.TXT 4.3 to 4.5. */

const FULL = 0xffffffff;

/** Bytes taken out of, or put into, the middle of the container. */
function spliced(at: number, take: number, put: Uint8Array): Uint8Array {
  const whole = schedule();
  return new Uint8Array(Buffer.concat([whole.subarray(0, at), put, whole.subarray(at + take)]));
}

/** Two entries whose bytes are those of one part. */
function overlapping(): Uint8Array {
  const entries = rawEntries();
  const copies = Array.from({ length: 50 }, (_, at) => ({
    name: `xl/copy${at}.xml`,
    content: new Uint8Array(0),
    packed: new Uint8Array(0),
    central: { offset: 0, packedSize: 100, size: 1_000 },
  }));
  return rawZip([...entries, ...copies]);
}

function manyEntries(): Uint8Array {
  const empty = new Uint8Array(0);
  const more = Array.from({ length: 20_001 }, (_, at) => ({
    name: `x/${at}`,
    content: empty,
    stored: true,
  }));
  return rawZip([...rawEntries(), ...more]);
}

/** A 64-bit end record and its locator in front of the plain one, which defers to them. */
function wideEnd(locatorOffset: bigint | null): Uint8Array {
  const plain = Buffer.from(schedule());
  const end = plain.length - 22;
  const record = Buffer.alloc(56);
  record.writeUInt32LE(0x06064b50, 0);
  record.writeBigUInt64LE(44n, 4);
  const count = BigInt(plain.readUInt16LE(end + 10));
  record.writeBigUInt64LE(count, 24);
  record.writeBigUInt64LE(count, 32);
  record.writeBigUInt64LE(BigInt(plain.readUInt32LE(end + 12)), 40);
  record.writeBigUInt64LE(BigInt(plain.readUInt32LE(end + 16)), 48);
  const locator = Buffer.alloc(20);
  locator.writeUInt32LE(0x07064b50, 0);
  locator.writeBigUInt64LE(locatorOffset ?? BigInt(end), 8);
  const last = Buffer.from(plain.subarray(end));
  last.writeUInt32LE(FULL, 12);
  last.writeUInt32LE(FULL, 16);
  return new Uint8Array(Buffer.concat([plain.subarray(0, end), record, locator, last]));
}

const sheet = rawEntries().find((entry) => entry.name === SHEET)?.content ?? new Uint8Array(0);
const damagedStream = () => {
  const packed = Buffer.from(deflateRawSync(sheet));
  packed.fill(0xff, 10, 40);
  return packed;
};

export const containers = [
  bad('wrong CRC', refused('crc'), () => lying(SHEET, { both: { crc: 0x12345678 } })),
  bad(
    'size told smaller than it is',
    refused('false-size'),
    () => lying(SHEET, { both: { size: 10 } }),
    {
      kind: 'false size',
    },
  ),
  bad(
    'size told larger than it is',
    refused('false-size'),
    () => lying(SHEET, { both: { size: 5_000 } }),
    {
      kind: 'false size',
    },
  ),
  bad(
    'size told as 90 MB',
    refused('packing-ratio'),
    () => lying(SHEET, { both: { size: 90_000_000 } }),
    {
      kind: 'ratio',
    },
  ),
  bad(
    'size told as 2^60 in 64 bits',
    refused('inflated-bytes'),
    () =>
      lying(SHEET, { central: { size: FULL, extra: wideExtra(2n ** 60n) }, local: { size: FULL } }),
    { kind: 'too many bytes' },
  ),
  bad('64-bit sizes that are true', readAs(3, null), () =>
    lying(SHEET, {
      central: { size: FULL, extra: wideExtra(BigInt(sheet.length)) },
      local: { size: FULL },
    }),
  ),
  bad('64-bit end record that is true', readAs(3, null), () => wideEnd(null)),
  bad('64-bit end record that is nowhere', refused('zip-damaged'), () => wideEnd(2n ** 52n)),
  bad(
    '64-bit place beyond the file',
    refused('zip-misplaced'),
    () =>
      lying(STRINGS, {
        central: { offset: FULL, extra: wideExtra(2n ** 40n) },
      }),
    { kind: 'misplaced' },
  ),
  bad(
    'packed size beyond the next part',
    refused('zip-overlap'),
    () => lying(WORKBOOK, { both: { packedSize: 900 } }),
    {
      kind: 'overlap',
    },
  ),
  bad('parts that share their bytes', refused('zip-overlap'), overlapping, { kind: 'overlap' }),
  bad(
    'local name other than in the directory',
    refused('zip-two-headers'),
    () => lying(SHEET, { local: { name: 'xl/worksheets/sheet9.xml' } }),
    {
      kind: 'two headers',
    },
  ),
  bad(
    'local size other than in the directory',
    refused('zip-two-headers'),
    () => lying(SHEET, { local: { size: 7 } }),
    {
      kind: 'two headers',
    },
  ),
  bad(
    'local method other than in the directory',
    refused('zip-two-headers'),
    () => lying(SHEET, { local: { method: 0 } }),
    {
      kind: 'two headers',
    },
  ),
  bad('part with the encryption flag', refused('zip-encrypted'), () =>
    lying(SHEET, { both: { flags: 1 } }),
  ),
  bad('unknown packing method', refused('zip-method'), () =>
    lying(SHEET, { both: { method: 12 } }),
  ),
  bad('part that does not unpack', refused('zip-unpacking'), () =>
    lying(SHEET, { packed: damagedStream() }),
  ),
  bad(
    'part placed within another',
    refused('zip-misplaced'),
    () => lying(STRINGS, { central: { offset: 4_000_000 } }),
    {
      kind: 'misplaced',
    },
  ),
  bad('directory counts too few parts', refused('zip-count'), () =>
    rawZip(rawEntries(), { count: 3 }),
  ),
  bad('directory of garbage', refused('zip-damaged'), () => {
    const bytes = schedule();
    const at = new DataView(bytes.buffer, bytes.byteOffset).getUint32(bytes.length - 6, true);
    const second = Buffer.from(bytes).indexOf(Buffer.from('PK\u0001\u0002'), at + 4);
    return bytes.fill(7, second, second + 4);
  }),
  bad('directory told shorter than it is', refused('zip-entry-cut'), () =>
    rawZip(rawEntries(), { size: 240 }),
  ),
  bad('one piece of a split file', refused('zip-split'), () => rawZip(rawEntries(), { disk: 2 })),
  bad('bytes put in the middle', refused('zip-shifted'), () => spliced(300, 0, noise(40)), {
    kind: 'shifted',
  }),
  bad(
    'bytes lost from the middle',
    refused('zip-shifted'),
    () => spliced(300, 40, new Uint8Array(0)),
    {
      kind: 'shifted',
    },
  ),
  bad(
    'text in front of the workbook',
    refused('zip-behind'),
    () => spliced(0, 0, strToU8('Content-Type: x\r\n\r\n')),
    {
      kind: 'in front',
    },
  ),
  bad('noise in front of the workbook', refused('zip-behind'), () => spliced(0, 0, noise(3_000)), {
    kind: 'in front',
  }),
  bad('short garbage behind the workbook', readAs(3, /33 bytes behind the end/), () =>
    rawZip(rawEntries(), { after: noise(33) }),
  ),
  bad('200 kB of zeros behind the workbook', readAs(3, /200,000 bytes behind the end/), () =>
    rawZip(rawEntries(), { after: new Uint8Array(200_000) }),
  ),
  bad('part of the same name twice', refused('duplicate-part'), () => adding(SHEET)),
  bad(
    'part names that differ by case',
    refused('part-names-alike'),
    () => adding('XL/Worksheets/Sheet1.xml'),
    {
      kind: 'alike',
    },
  ),
  bad('part names that differ by a slash', refused('part-names-alike'), () => adding(`/${SHEET}`), {
    kind: 'alike',
  }),
  bad(
    'part name that leads out with ..',
    refused('part-name'),
    () => adding('xl/../../../evil.xml'),
    {
      kind: 'leads out',
    },
  ),
  bad('part name with a drive letter', refused('part-name'), () => adding('C:\\evil.xml'), {
    kind: 'leads out',
  }),
  bad('part names with backslashes', readAs(3, /written with backslashes/), () =>
    rawZip(rawEntries().map((entry) => ({ ...entry, name: entry.name.replaceAll('/', '\\') }))),
  ),
  bad('part names from the root', readAs(3, /with a slash in front/), () =>
    rawZip(rawEntries().map((entry) => ({ ...entry, name: `/${entry.name}` }))),
  ),
  bad('20,001 parts', refused('zip-entries'), manyEntries, { fresh: true }),
];
