import { counted, READ_LIMITS } from './read-limits.ts';
import { MAKE_IT_SMALLER, refuse } from './refusal.ts';

const LINE_ENDS = [10, 13] as const;

function asBuffer(bytes: Uint8Array): Buffer {
  return Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}

/** Number of the line a place is in. */
function lineAt(bytes: Uint8Array, place: number): number {
  let line = 1;
  for (let at = 0; at < place; at++) {
    if (bytes[at] === 10 || (bytes[at] === 13 && bytes[at + 1] !== 10)) line++;
  }
  return line;
}

/** Place of the first line longer than the limit; undefined when there is none. */
function longLine(bytes: Uint8Array): number | undefined {
  const buffer = asBuffer(bytes);
  const limit = READ_LIMITS.csvLineBytes;
  let start = 0;
  while (start + limit < buffer.length) {
    const window = buffer.subarray(start, start + limit + 1);
    const last = Math.max(...LINE_ENDS.map((sign) => window.lastIndexOf(sign)));
    if (last < 0) return start;
    start += last + 1;
  }
  return undefined;
}

/**
 * Looks at the bytes of a csv file before anything is made of them.
 * @throws RefusalError `csv-line`, `csv-bytes`
 */
export function guardCsvBytes(bytes: Uint8Array, fileName: string): void {
  const long = longLine(bytes);
  if (long !== undefined) {
    const limit = counted(READ_LIMITS.csvLineBytes / 1e6);
    refuse(
      'csv-line',
      `A line of the file is longer than ${limit} MB, as no row of a table is.`,
      `${fileName}, line ${counted(lineAt(bytes, long))}`,
      'Export the schedule again, one row a line.',
    );
  }
  if (bytes.length > READ_LIMITS.csvBytes) {
    const limit = counted(READ_LIMITS.csvBytes / 1e6);
    refuse('csv-bytes', `The file is larger than ${limit} MB.`, fileName, MAKE_IT_SMALLER);
  }
}

/** Counts the cells there would be, so that a file of nothing but separators takes no memory. */
export function guardFieldCount(bytes: Uint8Array, separator: string, fileName: string): void {
  const buffer = asBuffer(bytes);
  let fields = 0;
  for (const sign of [separator.charCodeAt(0), ...LINE_ENDS]) {
    for (let at = buffer.indexOf(sign); at >= 0; at = buffer.indexOf(sign, at + 1)) fields++;
    if (fields > 3 * READ_LIMITS.cells) {
      const limit = counted(READ_LIMITS.cells);
      const what = `The file has far more than ${limit} cells, most of them empty.`;
      refuse('csv-cells', what, fileName, MAKE_IT_SMALLER);
    }
  }
}

/** Ends the reading of text with NUL characters in it. Throws `RefusalError`. */
export function refuseNul(bytes: Uint8Array, fileName: string): never {
  refuse(
    'csv-nul',
    'The file is text with NUL characters in it, which no table has: it was cut, or written wrongly.',
    `${fileName}, line ${counted(lineAt(bytes, bytes.indexOf(0)))}`,
    'Export the schedule again.',
  );
}
