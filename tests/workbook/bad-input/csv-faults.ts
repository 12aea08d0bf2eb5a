import { strToU8 } from 'fflate';
import { type BadInput, bad, type Expected, readAs, refused } from './bad-input.ts';

/** Text files that are no proper table. Rules after RFC 4180. */

const HEAD = 'Tag,Type,Run,Load W,Span m,Note\n';
const row = (at: number, note = '') => `D-${at},T1,R1,12.5,2,${note}\n`;
const TABLE = HEAD + row(1) + row(2) + row(3);

function csv(
  title: string,
  expected: Expected,
  make: () => string | Uint8Array,
  options: Partial<BadInput> = {},
): BadInput {
  const bytes = () => {
    const made = make();
    return typeof made === 'string' ? strToU8(made) : made;
  };
  return bad(title, expected, bytes, { fileName: 'schedule.csv', ...options });
}

const filled = (size: number, line: string) => {
  const bytes = Buffer.alloc(size, line);
  bytes.write(HEAD);
  return bytes;
};

export const csvFaults = [
  csv('csv of one line of 100 MB', refused('csv-line'), () => filled(100_000_000, 'abcdefg,'), {
    fresh: true,
    kind: 'long line',
  }),
  csv('csv with a line of 6 MB', refused('csv-line'), () => TABLE + 'x'.repeat(6_000_000), {
    kind: 'long line',
  }),
  csv('csv of 100 MB', refused('csv-bytes'), () => filled(100_000_000, 'D-1,T1,R1,12.5,2,\n'), {
    fresh: true,
  }),
  csv('csv with NUL characters', refused('csv-nul'), () => `${TABLE}D-4,T\0 1,R1,12.5,2\n`),
  csv(
    'csv with a quotation mark never closed',
    refused('csv-quote'),
    () => `${TABLE}D-4,"T1,R1,12.5,2\n`,
  ),
  csv(
    'csv with two stray quotation marks',
    readAs(2, /Cell schedule!F3 runs over 2 lines that look like rows/),
    () => `${HEAD}${row(1)}${row(2, '"6').trimEnd()}\n${row(3, '6"')}`,
  ),
  csv('csv with 2,000 columns', refused('columns'), () => `${'x,'.repeat(2_000)}\n`, {
    kind: 'columns',
  }),
  csv('csv of nothing but separators', refused('csv-cells'), () =>
    `${','.repeat(999)}\n`.repeat(3_100),
  ),
  csv(
    'csv of 720,000 cells',
    refused('cells'),
    () => HEAD + `${'1,'.repeat(30)}\n`.repeat(24_000),
    {
      fresh: true,
      kind: 'cells',
    },
  ),
  csv('csv of 25,001 rows', refused('rows'), () => 'x\n'.repeat(25_001), {
    fresh: true,
    kind: 'rows',
  }),
  csv(
    'csv with a cell of 40,000 letters',
    refused('long-cell'),
    () => `${TABLE}D-4,${'x'.repeat(40_000)}\n`,
    {
      kind: 'long cell',
    },
  ),
  csv('csv in windows-1252', readAs(1, /read as windows-1252/), () =>
    Buffer.from(`${HEAD}D-1,Café,R1,12.5,2,\n`, 'latin1'),
  ),
  csv('csv in UTF-16 without a mark', readAs(3, /read as UTF-16/), () =>
    Buffer.from(TABLE, 'utf16le'),
  ),
  csv('csv with rows of uneven length', readAs(3, null), () =>
    TABLE.replace('2,\nD-3', '2,,,,9\nD-3'),
  ),
];
