import { relationships, sheetXml } from '../package-builder.ts';
import { bad, readAs, refused } from './bad-input.ts';
import {
  goodRows,
  noise,
  partText,
  SHEET,
  SHEET_LINKS,
  STRINGS,
  schedule,
  WORKBOOK,
  WORKBOOK_LINKS,
  withParts,
} from './good-package.ts';

/** XML that is not, or that hides something. Rules after XML 1.0 (fifth edition). */

const THREADS = 'http://schemas.microsoft.com/office/2017/10/relationships/threadedComment';
const NOTES = 'xl/notes.xml';
const THREAD = 'xl/threads.xml';
const TABLE = 'xl/table.xml';
const THEME = 'xl/theme/theme1.xml';
const STYLES = 'xl/styles.xml';

/** Every kind of part the reader opens, well formed. */
const everyPart: Readonly<Record<string, string>> = {
  [SHEET]: sheetXml(
    `${goodRows.replace('<row r="4">', '<row r="4" hidden="0">')}<row r="9" hidden="1"/>`,
  ),
  [SHEET_LINKS]: relationships({
    rId1: ['comments', '/xl/notes.xml'],
    rId2: [THREADS, '/xl/threads.xml'],
    rId3: ['table', '/xl/table.xml'],
  }),
  [WORKBOOK_LINKS]: relationships({
    rId1: ['worksheet', 'worksheets/sheet1.xml'],
    rId2: ['sharedStrings', 'sharedStrings.xml'],
    rId3: ['styles', 'styles.xml'],
    rId4: ['theme', 'theme/theme1.xml'],
  }),
  [NOTES]: '<comments/>',
  [THREAD]: '<ThreadedComments/>',
  [TABLE]: '<table ref="A1:E4"/>',
  [THEME]: '<theme/>',
  [STYLES]: '<styleSheet/>',
};

const DOCTYPE = '<!DOCTYPE a [<!ENTITY x SYSTEM "file:///x">]>';
const kinds = [
  '_rels/.rels',
  WORKBOOK,
  WORKBOOK_LINKS,
  SHEET,
  SHEET_LINKS,
  STRINGS,
  STYLES,
  THEME,
  NOTES,
  THREAD,
  TABLE,
];
const doctypes = kinds.map((name) =>
  bad(
    `external entity in ${name}`,
    refused('doctype'),
    () => {
      const hidden = everyPart[SHEET]?.replace('<row r="4" hidden="0">', '<row r="4" hidden="1">');
      const parts: Record<string, string> = { ...everyPart, [SHEET]: hidden ?? '' };
      return withParts({ ...parts, [name]: DOCTYPE + (parts[name] ?? partText(name)) });
    },
    { kind: 'doctype' },
  ),
);

const sheet = (put: string) => sheetXml(goodRows + put);
const inSheet = (put: string | Uint8Array) =>
  withParts({ [SHEET]: typeof put === 'string' ? sheet(put) : put });
/** The sheet with bytes put in a text cell of their own. */
const bytesInSheet = (hex: string) => {
  const text = sheet('<row r="5"><c t="str"><v>@@</v></c></row>');
  const [before = '', after = ''] = text.split('@@');
  return inSheet(
    new Uint8Array(
      Buffer.concat([Buffer.from(before), Buffer.from(hex, 'hex'), Buffer.from(after)]),
    ),
  );
};
const encoded = (label: string, bytes: (text: string) => Uint8Array) =>
  inSheet(bytes(`<?xml version="1.0" encoding="${label}"?>${sheet('')}`));
/** Too varied to be refused for how tightly it packs. */
const thirtyMb = () => Buffer.from(noise(50_000)).toString('hex').repeat(300);
const utf16be = (text: string) => Buffer.from(text, 'utf16le').swap16();

export const xmlFaults = [
  ...doctypes,
  bad('all kinds of parts, no fault', readAs(3, null), () => withParts(everyPart)),
  bad('tags not closed in order', refused('xml'), () => inSheet('<row></c></row>'), {
    kind: 'xml 1',
  }),
  bad('plain text for a part', refused('xml'), () => withParts({ [SHEET]: 'not XML' }), {
    kind: 'xml 2',
  }),
  bad('a part that ends in the middle', refused('xml-unfinished'), () =>
    withParts({ [SHEET]: sheet('').slice(0, -30) }),
  ),
  bad('an entity not defined', refused('xml-entity'), () =>
    inSheet('<row><c><v>&x;</v></c></row>'),
  ),
  bad('an attribute twice', refused('xml-attribute-twice'), () => inSheet('<row r="5" r="6"/>')),
  bad('an encoding nobody knows', refused('xml-encoding'), () =>
    encoded('x-runes', (text) => Buffer.from(text)),
  ),
  bad('bytes that are not UTF-8', refused('xml-bytes'), () => bytesInSheet('e9e8'), {
    kind: 'bytes',
  }),
  bad('half a surrogate pair as bytes', refused('xml-bytes'), () => bytesInSheet('eda080'), {
    kind: 'bytes',
  }),
  bad('half a surrogate pair by number', refused('xml-character'), () =>
    inSheet('<row><c t="str"><v>&#xD800;</v></c></row>'),
  ),
  bad('a NUL character', refused('xml-character'), () => bytesInSheet('00')),
  bad('a NUL character by number', refused('xml-character'), () =>
    inSheet('<row><c t="str"><v>&#0;</v></c></row>'),
  ),
  bad('Latin-1 that says so', readAs(3, null), () =>
    encoded('iso-8859-1', (text) => Buffer.from(text, 'latin1')),
  ),
  bad('UTF-16 with a mark', readAs(3, null), () =>
    encoded('UTF-16', (text) => Buffer.from(`\uFEFF${text}`, 'utf16le')),
  ),
  bad('UTF-16, the other byte order, no mark', readAs(3, null), () => encoded('UTF-16', utf16be)),
  bad('UTF-8 that says it is UTF-16', readAs(3, null), () =>
    encoded('UTF-16', (text) => Buffer.from(text)),
  ),
  bad(
    '300 levels deep',
    refused('xml-depth'),
    () => inSheet('<a>'.repeat(300) + '</a>'.repeat(300)),
    {
      kind: 'deep',
    },
  ),
  bad('a million levels deep', refused('xml-depth'), () => inSheet('<a>'.repeat(1_000_000)), {
    kind: 'deep',
    fresh: true,
  }),
  bad(
    'an element with 2 million attributes',
    refused('xml-attributes'),
    () => inSheet(`<row ${Array.from({ length: 2_000_000 }, (_, at) => `a${at}=""`).join(' ')}/>`),
    { fresh: true },
  ),
  bad('an attribute of 30 MB', refused('xml-piece'), () => inSheet(`<row a="${thirtyMb()}"/>`), {
    kind: 'piece',
    fresh: true,
  }),
  bad('a comment of 30 MB', refused('xml-piece'), () => inSheet(`<!--${thirtyMb()}-->`), {
    kind: 'piece',
    fresh: true,
  }),
  bad(
    'two outermost elements',
    refused('xml'),
    () => withParts({ [SHEET]: `${sheet('')}<worksheet/>` }),
    {
      kind: 'xml 3',
    },
  ),
  bad('a schedule as it should be', readAs(3, null), () => schedule()),
];
