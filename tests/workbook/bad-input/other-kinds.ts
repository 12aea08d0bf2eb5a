import { gzipSync, strToU8, zipSync } from 'fflate';
import { fixtureBytes } from '../fixture.ts';
import { relationships } from '../package-builder.ts';
import { bad, readAs, refused } from './bad-input.ts';
import { noise, schedule, withParts } from './good-package.ts';

/** Files of another kind, whatever their name says. First bytes after their published formats. */

const utf16 = (text: string) => Buffer.from(text, 'utf16le');
const ole = (...streams: readonly string[]) =>
  new Uint8Array(
    Buffer.concat([
      Buffer.from('d0cf11e0a1b11ae1', 'hex'),
      Buffer.alloc(504),
      ...streams.map((name) => Buffer.concat([utf16(name), Buffer.alloc(128 - 2 * name.length)])),
    ]),
  );
const officePackage = (main: string) =>
  zipSync({ '[Content_Types].xml': strToU8('<Types/>'), [main]: strToU8('<a/>') });
const bytes = (hex: string, length = 600) => {
  const head = Buffer.from(hex, 'hex');
  return new Uint8Array(Buffer.concat([head, noise(length)]));
};
const CSV = 'Tag,Type,Run,Load W,Span m\nD-1,T1,R1,12.5,2\nD-2,T1,R1,12.5,2\n';
const contentTypes = (type: string) =>
  `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.${type}.main+xml"/></Types>`;

export const otherKinds = [
  bad('empty file', refused('empty'), () => new Uint8Array(0)),
  bad('nothing but blanks', refused('blank'), () => strToU8('\r\n  \t\n'), { kind: 'blank' }),
  bad('nothing but blanks, UTF-16', refused('blank'), () => utf16('\uFEFF  \r\n'), {
    kind: 'blank',
  }),
  bad('nothing but NUL bytes', refused('binary'), () => new Uint8Array(4_000), { kind: 'binary' }),
  bad(
    'old binary workbook (.xls)',
    refused('old-workbook'),
    () => fixtureBytes('old-schedule.xls'),
    {
      fileName: 'schedule.xls',
      kind: 'old',
    },
  ),
  bad(
    'old binary workbook named .xlsx',
    refused('old-workbook'),
    () => fixtureBytes('old-schedule.xls'),
    {
      kind: 'old',
    },
  ),
  bad(
    'older binary workbook without container',
    refused('old-workbook'),
    () => bytes('0908080000050500bb0dcc07'),
    { fileName: 'schedule.xls', kind: 'old' },
  ),
  bad('oldest binary workbook', refused('old-workbook'), () => bytes('0900040002001000'), {
    fileName: 'schedule.xls',
    kind: 'old',
  }),
  bad('workbook with a password', refused('encrypted'), () => fixtureBytes('with-password.xlsx'), {
    kind: 'password',
  }),
  bad(
    'container with EncryptedPackage',
    refused('encrypted'),
    () => ole('Root Entry', 'EncryptionInfo', 'EncryptedPackage'),
    { kind: 'password' },
  ),
  bad('old text document', refused('old-office'), () => ole('Root Entry', 'WordDocument')),
  bad('old container of another kind', refused('old-container'), () => ole('Root Entry', 'Notes')),
  bad('old workbook cut off after its header', refused('old-container'), () => ole(), {
    kind: 'old container of another kind',
  }),
  bad(
    'workbook with macros (.xlsm)',
    refused('macros'),
    () => withParts({ 'xl/vbaProject.bin': 'x' }),
    {
      fileName: 'schedule.xlsm',
      kind: 'macros',
    },
  ),
  bad(
    'macro sheet in a .xlsx',
    refused('macros'),
    () => withParts({ 'xl/macrosheets/sheet1.xml': '<a/>' }),
    { kind: 'macros' },
  ),
  bad(
    '.xlsm without macros',
    readAs(3, /named \.xlsm but holds an \.xlsx/),
    () => withParts({ '[Content_Types].xml': contentTypes('ms-excel.sheet.macroEnabled') }),
    { fileName: 'schedule.xlsm' },
  ),
  bad(
    'template (.xltx)',
    readAs(3, /named \.xltx but holds an \.xlsx/),
    () =>
      withParts({
        '[Content_Types].xml': contentTypes('openxmlformats-officedocument.spreadsheetml.template'),
      }),
    { fileName: 'schedule.xltx' },
  ),
  bad(
    'binary workbook (.xlsb)',
    refused('binary-workbook'),
    () =>
      withParts({
        'xl/workbook.xml': undefined,
        'xl/workbook.bin': noise(200),
        '_rels/.rels': relationships({ rId1: ['officeDocument', 'xl/workbook.bin'] }),
      }),
    { fileName: 'schedule.xlsb' },
  ),
  bad(
    'OpenDocument sheet (.ods)',
    refused('open-document'),
    () => fixtureBytes('open-document.ods'),
    {
      fileName: 'schedule.ods',
    },
  ),
  bad('text document (.docx)', refused('other-office'), () => officePackage('word/document.xml'), {
    fileName: 'schedule.docx',
  }),
  bad(
    'presentation (.pptx)',
    refused('presentation'),
    () => officePackage('ppt/presentation.xml'),
    {
      fileName: 'schedule.pptx',
    },
  ),
  bad('drawing (.vsdx)', refused('drawing'), () => officePackage('visio/document.xml'), {
    fileName: 'plan.vsdx',
  }),
  bad(
    'sheet document of a form of its own',
    refused('other-sheet'),
    () => zipSync({ 'Index/Document.iwa': noise(100), 'preview.jpg': noise(100) }),
    { fileName: 'schedule.sheet' },
  ),
  bad('zip with nothing in it', refused('empty-zip'), () => zipSync({})),
  bad('zip with a csv file in it', refused('other-zip'), () => zipSync({ 'a.csv': strToU8(CSV) }), {
    fileName: 'schedule.zip',
    kind: 'other zip',
  }),
  bad('zip with a workbook in it', refused('other-zip'), () => zipSync({ 'a.xlsx': schedule() }), {
    fileName: 'schedule.zip',
    kind: 'other zip',
  }),
  bad('PDF', refused('pdf'), () => strToU8('%PDF-1.7\n%âãÏÓ\n1 0 obj'), {
    fileName: 'schedule.pdf',
  }),
  bad('rich text', refused('rtf'), () => strToU8('{\\rtf1\\ansi Tag}'), {
    fileName: 'schedule.rtf',
  }),
  bad('picture (png)', refused('picture'), () => bytes('89504e470d0a1a0a0000000d'), {
    kind: 'picture',
  }),
  bad('picture (jpeg)', refused('picture'), () => bytes('ffd8ffe000104a464946'), {
    kind: 'picture',
  }),
  bad('archive (gz)', refused('archive'), () => gzipSync(strToU8(CSV)), {
    fileName: 'schedule.csv.gz',
    kind: 'archive',
  }),
  bad('archive (7z)', refused('archive'), () => bytes('377abcaf271c0004'), { kind: 'archive' }),
  bad('random bytes', refused('binary'), () => noise(50_000), { kind: 'binary' }),
  bad('JSON object', refused('json'), () => strToU8('{ "fixtures": [1, 2] }'), { kind: 'json' }),
  bad('JSON list', refused('json'), () => strToU8('[{"tag":"D-1"}]'), { kind: 'json' }),
  bad('JSON cut off', refused('json'), () => strToU8('{"fixtures":[{"tag":"D-1"'), {
    kind: 'json',
  }),
  bad('web page named .xls', refused('html'), () => strToU8('\n<html><table><tr><td>Tag'), {
    fileName: 'schedule.xls',
    kind: 'html',
  }),
  bad(
    'web page (XHTML) named .xlsx',
    refused('html'),
    () => strToU8('<?xml version="1.0"?><!DOCTYPE html><html xmlns="x"/>'),
    { kind: 'html' },
  ),
  bad(
    'workbook in an older XML form',
    refused('xml-workbook'),
    () =>
      strToU8(
        '<?xml version="1.0"?><?mso-application progid="Excel.Sheet"?><Workbook xmlns="urn:schemas-microsoft-com:office:spreadsheet"/>',
      ),
    { fileName: 'schedule.xml' },
  ),
  bad('XML of another kind', refused('xml-file'), () => strToU8('<?xml version="1.0"?><plan/>'), {
    fileName: 'schedule.xml',
  }),
  bad('csv named .xlsx', readAs(2, /named \.xlsx but holds plain text/), () => strToU8(CSV)),
  bad('workbook named .csv', readAs(3, /named \.csv but holds an \.xlsx/), () => schedule(), {
    fileName: 'schedule.csv',
  }),
];
