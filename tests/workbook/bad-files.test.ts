import fc from 'fast-check';
import { strToU8, zipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import { ReadBudget } from '../../src-main/workbook/read-budget.ts';
import { readSourceFile } from '../../src-main/workbook/read-file.ts';
import { fixtureBytes, refusalOf } from './fixture.ts';
import { directoryEntries, packageBytes, packageParts, relationships } from './package-builder.ts';

// No outside source: the kinds of bad input are those of this project's own quality statements.

const plain = { rows: '<row><c><v>1</v></c></row>' };

/** A package whose directory entry for a part is altered at an offset (APPNOTE.TXT 4.3.12). */
function altered(name: string, offset: number, value: number, bytes = packageBytes(plain)) {
  const at = directoryEntries(bytes).get(name);
  if (at === undefined) throw new Error(`no ${name}`);
  new DataView(bytes.buffer, bytes.byteOffset).setUint32(at + offset, value, true);
  return bytes;
}

const SHEET = 'xl/worksheets/sheet1.xml';

/** Two entries of one name: fflate cannot write them, so the second is renamed to the first. */
function duplicate(): Uint8Array {
  const bytes = packageBytes({ ...plain, parts: { 'xl/worksheets/sheet2.xml': '<worksheet/>' } });
  const text = Buffer.from(bytes);
  for (let at = text.indexOf('sheet2.xml'); at >= 0; at = text.indexOf('sheet2.xml')) {
    text.write('sheet1.xml', at);
  }
  return new Uint8Array(text);
}

function manyEntries(): Uint8Array {
  const parts = Object.fromEntries(packageParts(plain));
  for (let at = 0; at < 20_001; at++) parts[`x/${at}`] = new Uint8Array(0);
  return zipSync(parts, { level: 0 });
}

const repeat = (text: string, times: number) => text.repeat(times);
const withPart = (name: string, content: string | Uint8Array | undefined) =>
  packageBytes({ ...plain, parts: { [name]: content } });
const ole = [0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1];

const CASES: readonly (readonly [code: string, says: RegExp, make: () => Uint8Array])[] = [
  ['empty', /empty/, () => new Uint8Array(0)],
  ['empty', /empty/, () => strToU8('\r\n  \n')],
  ['empty-zip', /nothing in it/, () => zipSync({})],
  ['old-workbook', /\.xls\b/, () => fixtureBytes('old-schedule.xls')],
  ['encrypted', /password/, () => fixtureBytes('with-password.xlsx')],
  [
    'old-office',
    /text document/,
    () => new Uint8Array([...ole, ...Buffer.from('WordDocument', 'utf16le')]),
  ],
  ['open-document', /OpenDocument/, () => fixtureBytes('open-document.ods')],
  ['pdf', /PDF/, () => strToU8('%PDF-1.7\n%âãÏÓ\n1 0 obj')],
  ['rtf', /rich text/, () => strToU8('{\\rtf1\\ansi Tag}')],
  ['html', /web page/, () => strToU8('\n<html><table><tr><td>Tag</td></tr></table></html>')],
  ['html', /web page/, () => strToU8('<?xml version="1.0"?><!DOCTYPE html><html xmlns="x"/>')],
  ['xml', /XML file/, () => strToU8('<?xml version="1.0"?><Workbook/>')],
  [
    'binary',
    /neither/,
    () => new Uint8Array([0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, 0, 0, 0, 13]),
  ],
  [
    'other-office',
    /text document/,
    () => zipSync({ '[Content_Types].xml': strToU8('<a/>'), 'word/document.xml': strToU8('<a/>') }),
  ],
  ['other-zip', /no workbook in it/, () => zipSync({ 'schedule.csv': strToU8('Tag,W') })],
  ['binary-workbook', /\.xlsb/, () => withPart('xl/workbook.bin', 'x')],
  ['macros', /macros/, () => withPart('xl/vbaProject.bin', 'x')],
  ['macros', /macros/, () => withPart('xl/macrosheets/sheet1.xml', '<a/>')],
  ['missing-part', /main part/, () => withPart('xl/workbook.xml', undefined)],
  ['missing-part', /sheet Plan/, () => withPart(SHEET, undefined)],
  ['missing-part', /where it is/, () => withPart('xl/_rels/workbook.xml.rels', undefined)],
  [
    'missing-part',
    /shared strings/,
    () => packageBytes({ rows: '<row><c t="s"><v>0</v></c></row>' }),
  ],
  [
    'string-place',
    /not in the workbook/,
    () => packageBytes({ rows: '<row><c t="s"><v>7</v></c></row>', strings: '<si><t>a</t></si>' }),
  ],
  ['no-sheets', /no sheet/, () => withPart('xl/workbook.xml', '<workbook><sheets/></workbook>')],
  [
    'doctype',
    /document type/,
    () => withPart(SHEET, '<!DOCTYPE a [<!ENTITY x "y">]><worksheet>&x;</worksheet>'),
  ],
  [
    'doctype',
    /document type/,
    () => withPart('xl/workbook.xml', '<!DOCTYPE a SYSTEM "file:///x"><workbook/>'),
  ],
  ['xml', /well-formed/, () => withPart(SHEET, '<worksheet><sheetData><row></sheetData>')],
  ['xml', /well-formed/, () => withPart(SHEET, 'not XML')],
  ['xml-depth', /levels deep/, () => withPart(SHEET, repeat('<a>', 300) + repeat('</a>', 300))],
  ['crc', /checksum/, () => altered(SHEET, 16, 0x12345678)],
  ['false-size', /does not have the/, () => altered(SHEET, 24, 10)],
  ['false-size', /does not have the/, () => altered(SHEET, 24, 5_000)],
  ['inflated-bytes', /more than 100 MB/, () => altered(SHEET, 24, 200_000_000)],
  ['packing-ratio', /times its size/, () => withPart(SHEET, new Uint8Array(12_000_000))],
  ['zip-encrypted', /password/, () => altered(SHEET, 8, 1)],
  ['zip-method', /packed in a way/, () => altered(SHEET, 10, 12)],
  ['zip-damaged', /does not stand where/, () => altered(SHEET, 42, 3)],
  ['zip-damaged', /cut off/, () => altered(SHEET, 20, 900_000)],
  ['duplicate-part', /twice/, duplicate],
  ['zip-entries', /20,000 parts/, manyEntries],
  [
    'rows',
    /200,000 rows/,
    () => packageBytes({ rows: repeat('<row><c><v>1</v></c></row>', 200_001) }),
  ],
  ['columns', /1,000 columns/, () => packageBytes({ rows: '<row><c r="ALM1"><v>1</v></c></row>' })],
  [
    'cells',
    /3,000,000 filled cells/,
    () => packageBytes({ rows: repeat(`<row>${repeat('<c><v>1</v></c>', 1000)}</row>`, 3001) }, 0),
  ],
  [
    'merges',
    /50,000 merged/,
    () =>
      packageBytes({
        ...plain,
        after: `<mergeCells>${repeat('<mergeCell ref="A1:B1"/>', 50_001)}</mergeCells>`,
      }),
  ],
  [
    'cell-characters',
    /characters of text/,
    () =>
      packageBytes({
        rows: repeat('<row><c t="s"><v>0</v></c></row>', 5_000),
        strings: `<si><t>${repeat('x', 30_000)}</t></si>`,
      }),
  ],
  [
    'long-cell',
    /more than 32,767 characters/,
    () =>
      packageBytes({
        rows: '<row r="7"><c r="B7" t="s"><v>0</v></c></row>',
        strings: `<si><t>${repeat('x', 32_768)}</t></si>`,
      }),
  ],
  ['long-cell', /more than 32,767 characters/, () => strToU8(`Tag\n"${repeat('x', 5_000_000)}"`)],
  [
    'cell-outside',
    /beyond the last place/,
    () => packageBytes({ rows: '<row r="1048577"><c><v>1</v></c></row>' }),
  ],
  ['csv-quote', /never closed/, () => strToU8('Tag,Note\nA1,"open\nA2,b')],
  ['columns', /1,000 columns/, () => strToU8(repeat('x,', 1_001))],
  ['rows', /200,000 rows/, () => strToU8(repeat('x\n', 200_001))],
  ['cells', /3,000,000 cells/, () => strToU8(repeat(',', 9_000_001))],
];

describe('each kind of bad file has a refusal of its own', () => {
  test.each(CASES)('%s %s', (code, says, make) => {
    const bytes = make();
    const start = performance.now();
    const refusal = refusalOf(bytes, 'folder/plan.xlsx');
    expect(performance.now() - start).toBeLessThan(5_000);
    expect(refusal.what).toMatch(says);
    expect(refusal.code).toBe(code);
    expect(refusal.where).toMatch(/^plan\.xlsx/);
    expect(refusal.todo.length).toBeGreaterThan(10);
    expect(Object.values(refusal).join()).not.toMatch(/Error|undefined|\bat \//);
  });

  test('messages differ from kind to kind', () => {
    const whats = new Map(CASES.map(([code, , make]) => [code, refusalOf(make(), 'a.xlsx').what]));
    expect(new Set(whats.values()).size).toBe(whats.size);
  });
});

test('a cell too long is named; the longest one a file may hold is read', () => {
  const strings = (length: number) => ({
    rows: '<row r="7"><c r="B7" t="s"><v>0</v></c></row>',
    strings: `<si><t>${repeat('x', length)}</t></si>`,
  });
  expect(refusalOf(packageBytes(strings(32_768)), 'a.xlsx').where).toMatch(
    /^a\.xlsx, cell \S+!B7$/,
  );
  expect(refusalOf(strToU8(`Tag\nA,${repeat('x', 40_000)}`), 'a.csv').where).toBe(
    'a.csv, cell a!B2',
  );
  expect(readSourceFile(packageBytes(strings(32_767)), 'a.xlsx').ok).toBe(true);
});

test('a saved project is recognised and left to others', () => {
  const outcome = readSourceFile(zipSync({ 'runledger.json': strToU8('{}') }), 'job');
  expect(outcome).toEqual({ ok: true, kind: 'project' });
});

test('many merged areas of the whole sheet take no time', () => {
  const merges = repeat('<mergeCell ref="A1:XFD1048576"/>', 49_999);
  const rows = repeat(`<row>${repeat('<c><v>1</v></c>', 50)}</row>`, 500);
  const bytes = packageBytes({ rows, after: `<mergeCells>${merges}</mergeCells>` });
  const start = performance.now();
  expect(readSourceFile(bytes, 'a.xlsx').ok).toBe(true);
  expect(performance.now() - start).toBeLessThan(2_000);
});

test('a workbook cut at every tenth byte is refused, and all but the first stumps as cut off', () => {
  const whole = fixtureBytes('openpyxl-schedule.xlsx');
  for (let length = 0; length < whole.length; length += 10) {
    const refusal = refusalOf(whole.subarray(0, length), 'cut.xlsx');
    expect(refusal.code, `at ${length}`).toBe(length === 0 ? 'empty' : 'cut-off');
  }
});

test('flipped bytes never throw', () => {
  const whole = fixtureBytes('xlsxwriter-plain.xlsx');
  const flips = fc.array(fc.tuple(fc.nat(whole.length - 1), fc.integer({ min: 1, max: 255 })), {
    minLength: 1,
    maxLength: 5,
  });
  fc.assert(
    fc.property(flips, (places) => {
      const bytes = whole.slice();
      for (const [at, bits] of places) bytes[at] = (bytes[at] ?? 0) ^ bits;
      const outcome = readSourceFile(bytes, 'flipped.xlsx');
      if (outcome.ok) return;
      expect(outcome.refusal.code).not.toBe('unreadable');
      expect(outcome.refusal.what).not.toBe('');
    }),
    { numRuns: 1_500, seed: 20_240_229 },
  );
});

test('a part altered inside the XML never throws', () => {
  const parts = packageParts({
    rows: '<row r="1" hidden="1"><c r="A1" s="1" t="s"><v>0</v></c><c r="B1" t="inlineStr"><is><t>x</t></is></c><c r="C1"><f t="shared" si="0" ref="C1:C2">A1+1</f><v>2</v></c></row>',
    after: '<mergeCells><mergeCell ref="A1:B2"/></mergeCells>',
    strings: '<si><t>a</t></si>',
    styles:
      '<numFmts><numFmt numFmtId="170" formatCode="0.0&quot; ft&quot;"/></numFmts><fonts><font><strike/></font></fonts><cellXfs><xf/><xf numFmtId="170" fontId="0"/></cellXfs>',
    parts: {
      'xl/worksheets/_rels/sheet1.xml.rels': relationships({ rId1: ['comments', '/xl/c.xml'] }),
      'xl/c.xml': '<comments><comment ref="A1"><text><t>n</t></text></comment></comments>',
    },
  });
  const names = [...parts.keys()];
  const sign = fc.constantFrom('<', '>', '"', '0', '-', '9', 'A', 'z', ' ', '/', '\u0000', 'é');
  fc.assert(
    fc.property(fc.nat(names.length - 1), fc.nat(400), sign, (place, at, put) => {
      const name = names[place] ?? '';
      const text = new TextDecoder().decode(parts.get(name));
      const cut = at % text.length;
      const changed = new Map(parts).set(
        name,
        strToU8(text.slice(0, cut) + put + text.slice(cut + 1)),
      );
      const outcome = readSourceFile(zipSync(Object.fromEntries(changed)), 'altered.xlsx');
      if (!outcome.ok) expect(outcome.refusal.code).not.toBe('unreadable');
    }),
    { numRuns: 1_500, seed: 20_240_301 },
  );
});

test('cells are counted one by one too, over all sheets', () => {
  const budget = new ReadBudget('plan.xlsx');
  for (let at = 0; at < 3_000_000; at++) budget.addCell(0, 1, '1', at % 2 ? 'A' : 'B');
  expect(() => budget.addCell(0, 1, '1', 'B')).toThrow(/3,000,000 filled cells/);
});
