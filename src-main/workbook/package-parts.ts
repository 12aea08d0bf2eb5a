import { crc32, inflateRawSync } from 'node:zlib';
import { counted, READ_LIMITS } from './read-limits.ts';
import { GET_A_FRESH_COPY, MAKE_IT_SMALLER, refuse } from './refusal.ts';
import { partKey, type ZipEntry } from './zip-directory.ts';
import { packedBytes } from './zip-layout.ts';

/** The parts of a package, inflated one by one under a cap over all of them, with size and CRC checked. */
export class PackageParts {
  readonly fileName: string;
  readonly #bytes: Uint8Array;
  readonly #entries: ReadonlyMap<string, ZipEntry>;
  #inflated = 0;

  constructor(bytes: Uint8Array, entries: ReadonlyMap<string, ZipEntry>, fileName: string) {
    this.#bytes = bytes;
    this.#entries = entries;
    this.fileName = fileName;
  }

  has(name: string): boolean {
    return this.#entries.has(partKey(name));
  }

  /** Keys of all parts: lower case, no leading slash. */
  keys(): IterableIterator<string> {
    return this.#entries.keys();
  }

  /** `file.xlsx, part xl/workbook.xml`, for messages. */
  where(name: string): string {
    return `${this.fileName}, part ${name}`;
  }

  /**
   * The bytes of a part, or undefined when the package has none of that name.
   * @throws RefusalError when it is encrypted, damaged, false in size or over a limit
   */
  read(name: string): Uint8Array | undefined {
    const entry = this.#entries.get(partKey(name));
    if (!entry) return undefined;
    this.#guard(entry);
    const packed = packedBytes(this.#bytes, entry, this.where(entry.name), (code, detail) =>
      this.#damaged(entry, detail, code),
    );
    const content = entry.method === 0 ? packed : this.#inflate(entry, packed);
    if (content.length !== entry.size) this.#falseSize(entry);
    if (crc32(content) !== entry.crc32) {
      refuse(
        'crc',
        `The part ${entry.name} is damaged: its checksum does not fit its content.`,
        this.where(entry.name),
        GET_A_FRESH_COPY,
      );
    }
    this.#inflated += content.length;
    return content;
  }

  #guard(entry: ZipEntry): void {
    if ((entry.flags & 1) !== 0) {
      refuse(
        'zip-encrypted',
        'The file is a zip container with a password.',
        this.where(entry.name),
        'Unpack it with the password and open the workbook inside.',
      );
    }
    if (entry.method !== 0 && entry.method !== 8) {
      refuse(
        'zip-method',
        `The part ${entry.name} is packed in a way that workbooks do not use.`,
        this.where(entry.name),
        GET_A_FRESH_COPY,
      );
    }
    if (this.#inflated + entry.size > READ_LIMITS.inflatedBytes) this.#tooBig(entry);
    const ratio = entry.size / Math.max(1, entry.packedSize);
    if (entry.size > READ_LIMITS.ratioFromBytes && ratio > READ_LIMITS.packingRatio) {
      refuse(
        'packing-ratio',
        `The part ${entry.name} would unpack to ${counted(Math.round(ratio))} times its size, as no schedule does.`,
        this.where(entry.name),
        'Open the file only if you trust its sender; save it again in a spreadsheet program first.',
      );
    }
  }

  #inflate(entry: ZipEntry, packed: Uint8Array): Uint8Array {
    try {
      // One piece as large as the part: pieces would be joined, which takes the memory twice.
      const chunkSize = Math.max(64, entry.size + 1);
      return inflateRawSync(packed, { maxOutputLength: entry.size + 1, chunkSize });
    } catch (error) {
      const code = error instanceof Error && 'code' in error ? error.code : undefined;
      if (code === 'ERR_BUFFER_TOO_LARGE') this.#falseSize(entry);
      return this.#damaged(entry, 'it cannot be unpacked', 'zip-unpacking');
    }
  }

  #damaged(entry: ZipEntry, detail: string, code: string): never {
    refuse(
      code,
      `The part ${entry.name} is damaged: ${detail}.`,
      this.where(entry.name),
      GET_A_FRESH_COPY,
    );
  }

  #falseSize(entry: ZipEntry): never {
    refuse(
      'false-size',
      `The part ${entry.name} does not have the ${counted(entry.size)} bytes the file says it has.`,
      this.where(entry.name),
      GET_A_FRESH_COPY,
    );
  }

  #tooBig(entry: ZipEntry): never {
    refuse(
      'inflated-bytes',
      `The workbook unpacks to more than ${counted(READ_LIMITS.inflatedBytes / 1e6)} MB.`,
      this.where(entry.name),
      MAKE_IT_SMALLER,
    );
  }
}
