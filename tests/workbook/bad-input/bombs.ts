import { strToU8, zipSync } from 'fflate';
import { type PackageText, relationships, sheetXml, workbookXml } from '../package-builder.ts';
import { type BadInput, bad, readAs, refused } from './bad-input.ts';
import {
  goodRows,
  goodStrings,
  noise,
  rawEntries,
  SHEET,
  STRINGS,
  schedule,
  WORKBOOK,
  WORKBOOK_LINKS,
  withParts,
} from './good-package.ts';
import { rawZip } from './raw-zip.ts';

/** Small files that become large ones, and files just inside or outside of every limit. */

const heavy = { fresh: true } as const;
/** A workbook packed by zlib, which is quicker for large ones. */
const packed = (text: PackageText) => rawZip(rawEntries(text));
const rowsOf = (cells: string, count: number) => `<row>${cells}</row>`.repeat(count);
const number = '<c><v>1</v></c>';

/** A spreadsheet of zips, one in the other, five deep; nothing ever opens the inner ones. */
function nested(): Uint8Array {
  let inner = zipSync({ 'zeros.bin': new Uint8Array(5_000_000) });
  for (let level = 0; level < 5; level++) {
    inner = zipSync(Object.fromEntries(Array.from({ length: 8 }, (_, at) => [`${at}.zip`, inner])));
  }
  return withParts({ 'xl/embeddings/inner.zip': inner });
}

/** Followers of one long shared formula: each would be as long again. */
function formulaFlood(): Uint8Array {
  const long = `A1${'+A1'.repeat(2_600)}`;
  const follower = '<c><f t="shared" si="0"/><v>1</v></c>';
  return schedule({
    rows: `${goodRows}<row r="5"><c><f t="shared" si="0" ref="A5:Z9999">${long}</f><v>1</v></c>${follower.repeat(20)}</row>${rowsOf(follower.repeat(20), 5_000)}`,
  });
}

/** A number format as long and as nested as one may be, on each of 200,000 cells. */
function formatFlood(): Uint8Array {
  const code = `[&lt;1]${'#,##0.0# '.repeat(12)};[&gt;9]${'0.0?/?? '.repeat(12)};0`.slice(0, 250);
  const cells = '<c s="1"><v>0.123456789</v></c>'.repeat(19);
  const rows = Array.from({ length: 10_000 }, (_, at) => {
    const first = `<c r="J${at + 9}" s="1"><v>0.5</v></c>`;
    return `<row r="${at + 9}">${first}${cells}</row>`;
  });
  return packed({
    styles: `<numFmts><numFmt numFmtId="170" formatCode="${code}"/></numFmts><cellXfs><xf/><xf numFmtId="170"/></cellXfs>`,
    rows: goodRows + rows.join(''),
    strings: goodStrings,
  });
}

/** As much of everything as the limits let through at once: 24,990 rows, 449,820 texts, 90 MB. */
function nearEveryLimit(above: string): Uint8Array {
  const filler = `<!--${Buffer.from(noise(1_200)).toString('hex')}-->`;
  const rows = Array.from({ length: 24_990 }, (_, at) => {
    const cells = Array.from(
      { length: 18 },
      (_, column) => `<c t="inlineStr"><is><t>words ${at}.${column}</t></is></c>`,
    );
    return `<row>${cells.join('')}</row>${filler}`;
  });
  return packed({ rows: above + rows.join(''), strings: goodStrings });
}

/** A second sheet before the small schedule. */
function besideData(rows: string): Uint8Array {
  const sheets = '<sheet name="Data" sheetId="2" r:id="rId9"/><sheet name="Plan"';
  const text = rawEntries().find((entry) => entry.name === WORKBOOK_LINKS)?.content;
  return packed({
    rows: goodRows,
    strings: goodStrings,
    parts: {
      [WORKBOOK]: workbookXml().replace('<sheet name="Plan"', sheets),
      [WORKBOOK_LINKS]: new TextDecoder()
        .decode(text)
        .replace(
          '</Relationships>',
          relationships({ rId9: ['worksheet', 'worksheets/data.xml'] }).replace(
            /^<Relationships[^>]*>/,
            '',
          ),
        ),
      'xl/worksheets/data.xml': sheetXml(rows),
    },
  });
}

/** 140 MB of pictures beside the small schedule, packed as they are. */
function manyPictures(): Uint8Array {
  const picture = noise(7_000_000);
  const pictures = Array.from({ length: 20 }, (_, at) => ({
    name: `xl/media/image${at}.png`,
    content: picture,
    stored: true,
  }));
  return rawZip([...rawEntries(), ...pictures]);
}

const strings = (items: string) => packed({ strings: goodStrings + items });
const styles = (xml: string) => schedule({ styles: xml });

export const bombs: readonly BadInput[] = [
  bad(
    '12 MB of zeros in a sheet part',
    refused('packing-ratio'),
    () => withParts({ [SHEET]: new Uint8Array(12_000_000) }),
    {
      kind: 'ratio',
    },
  ),
  bad(
    'parts of 110 MB together',
    refused('inflated-bytes'),
    () => {
      const text = strToU8(`<!--${Buffer.from(noise(300)).toString('hex')}-->`.repeat(90_000));
      return withParts({
        [SHEET]: text,
        [STRINGS]: Buffer.concat([strToU8('<sst>'), text, strToU8('</sst>')]),
      });
    },
    { kind: 'too many bytes', ...heavy },
  ),
  bad('zips within zips within zips', readAs(3, null), nested, heavy),
  bad(
    'one text of 30,000 letters in 5,000 cells',
    refused('cell-characters'),
    () =>
      schedule({
        rows: goodRows + rowsOf('<c t="s"><v>10</v></c>', 5_000),
        strings: `${goodStrings}<si><t>${'x'.repeat(30_000)}</t></si>`,
      }),
    { kind: 'characters', ...heavy },
  ),
  bad('one long shared formula in 100,000 cells', refused('cell-characters'), formulaFlood, {
    kind: 'characters',
    ...heavy,
  }),
  bad('a slow number format on 200,000 cells', readAs(3, null), formatFlood, heavy),
  bad(
    '600,000 different texts',
    refused('shared-strings'),
    () => strings(Array.from({ length: 600_000 }, (_, at) => `<si><t>${at}</t></si>`).join('')),
    heavy,
  ),
  bad(
    '25 MB of texts',
    refused('shared-characters'),
    () => strings(`<si><t>${Buffer.from(noise(20_000)).toString('hex')}</t></si>`.repeat(620)),
    heavy,
  ),
  bad(
    '120,000 cell styles',
    refused('styles'),
    () => styles(`<cellXfs>${'<xf/>'.repeat(120_000)}</cellXfs>`),
    {
      kind: 'styles',
    },
  ),
  bad(
    '120,000 fonts',
    refused('styles'),
    () => styles(`<fonts>${'<font/>'.repeat(120_000)}</fonts>`),
    {
      kind: 'styles',
    },
  ),
  bad('6,000 number formats', refused('number-formats'), () =>
    styles(
      `<numFmts>${Array.from({ length: 6_000 }, (_, at) => `<numFmt numFmtId="${at + 200}" formatCode="0.${'0'.repeat(at % 200)}"/>`).join('')}</numFmts>`,
    ),
  ),
  bad('25,001 rows', refused('rows'), () => packed({ rows: rowsOf(number, 25_001) }), {
    kind: 'rows',
    ...heavy,
  }),
  bad(
    'column 1,001 in use',
    refused('columns'),
    () => packed({ rows: '<row><c r="ALM1"><v>1</v></c></row>' }),
    { kind: 'columns' },
  ),
  bad(
    '3,000,000 cells',
    refused('cells'),
    () => packed({ rows: rowsOf(number.repeat(100), 30_000) }),
    {
      kind: 'cells',
      ...heavy,
    },
  ),
  bad(
    '451,000 cells written oddly',
    refused('cells'),
    () => packed({ rows: rowsOf('<c><v >1</v ></c>'.repeat(100), 4_510) }),
    { kind: 'cells', ...heavy },
  ),
  bad(
    'near the limit of text: 300 cells of 32,000 letters above the header',
    readAs(3, null),
    () => {
      const long = `<row>${'<c t="s"><v>10</v></c>'.repeat(20)}</row>`;
      const rows = long.repeat(15) + goodRows.replace(/ r="[0-9]"/g, '');
      const text = `x${'1 '.repeat(15_999)}y`;
      return packed({ rows, strings: `${goodStrings}<si><t>${text}</t></si>` });
    },
    heavy,
  ),
  bad('near every limit, no schedule in it', refused('no-schedule'), () => nearEveryLimit(''), {
    kind: 'no header',
    ...heavy,
  }),
  bad(
    'near every limit, a schedule of 24,993 rows that say nothing',
    readAs(24_993, null),
    () => nearEveryLimit(goodRows),
    { ...heavy, isDocument: true },
  ),
  bad(
    'a sheet of 60,000 rows beside the schedule',
    readAs(
      3,
      /Sheet Data was left out, no schedule was found in it: the file has more than 25,000/,
    ),
    () => besideData(rowsOf(number, 60_000)),
    heavy,
  ),
  bad(
    'a sheet of 60,000 rows beside the schedule, a schedule too',
    refused('rows'),
    () => besideData(goodRows.replace(/ r="[0-9]"/g, '') + rowsOf(number, 60_000)),
    { kind: 'rows', ...heavy },
  ),
  bad('140 MB of pictures beside the schedule', readAs(3, null), manyPictures, heavy),
];
