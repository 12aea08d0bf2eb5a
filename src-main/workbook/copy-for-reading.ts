import { readZipDirectory } from './zip-directory.ts';

/** Pictures and other content that is never read, but may be most of a workbook. */
const NEVER_READ = /\.(png|jpe?g|gif|bmp|tiff?|emf|wmf|svg|webp|pdf|mp4|bin)$/i;
const FROM_BYTES = 10_000_000;

/**
 * A copy of a file's bytes for the reader. Of a large workbook, pictures are left out: their places
 * stay zero, and untouched zeros take no memory.
 */
export function copyForReading(bytes: Uint8Array): Uint8Array<ArrayBuffer> {
  if (bytes.length < FROM_BYTES || bytes[0] !== 0x50 || bytes[1] !== 0x4b) {
    return Uint8Array.from(bytes);
  }
  const copy = new Uint8Array(bytes.length);
  let from = 0;
  for (const { start, end } of leftOut(bytes)) {
    copy.set(bytes.subarray(from, start), from);
    from = Math.max(from, end);
  }
  copy.set(bytes.subarray(from), from);
  return copy;
}

/** Spans of content never read, in order. */
function leftOut(bytes: Uint8Array): readonly { readonly start: number; readonly end: number }[] {
  try {
    const entries = [...readZipDirectory(bytes, '').values()];
    return entries
      .filter(({ name, packedSize }) => packedSize > 65_536 && NEVER_READ.test(name))
      .map(({ headerOffset, packedSize }) => {
        const view = new DataView(bytes.buffer, bytes.byteOffset + headerOffset, 30);
        const lengths = view.getUint16(26, true) + view.getUint16(28, true);
        const start = headerOffset + 30 + lengths;
        return { start, end: Math.min(start + packedSize, bytes.length) };
      })
      .sort((a, b) => a.start - b.start);
  } catch {
    // Whatever is wrong with it, the reader says.
    return [];
  }
}
