import { strToU8 } from 'fflate';
import { describe, expect, test } from 'vitest';
import { shownGrid, workbookOf } from './fixture.ts';
import { packageBytes, relationships, sheetXml, workbookXml } from './package-builder.ts';

// Packages written by hand after ECMA-376 part 1 (5th edition); the clause stands beside each check.

const cellsOf = (rows: string, more = {}) =>
  workbookOf(packageBytes({ rows, ...more })).sheets[0]?.rows.flatMap((row) => row.cells) ?? [];

describe('legal but rare forms', () => {
  test('rows and cells without r= count on from the last (18.3.1.73, 18.3.1.4: r is optional)', () => {
    const rows =
      '<row><c t="str"><v>a</v></c><c><v>1</v></c><c r="E1"><v>5</v></c><c><v>6</v></c></row>' +
      '<row r="4"><c><v>2</v></c></row><row><c><v>3</v></c></row>';
    expect(shownGrid(workbookOf(packageBytes({ rows })).sheets[0])).toEqual([
      ['a', '1', '', '', '5', '6'],
      [],
      [],
      ['2'],
      ['3'],
    ]);
  });

  test('main XML with a prefix and absolute targets (Namespaces in XML 1.0; part 2, 6.5.3)', () => {
    const main = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
    const doc = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
    const bytes = packageBytes({
      parts: {
        'xl/workbook.xml': `<x:workbook xmlns:x="${main}" xmlns:q="${doc}"><x:sheets><x:sheet name="P &amp; Q" sheetId="1" state="veryHidden" q:id="rId1"/></x:sheets></x:workbook>`,
        'xl/_rels/workbook.xml.rels': relationships({
          rId1: ['worksheet', '/xl/worksheets/sheet1.xml'],
          rId2: ['sharedStrings', '/xl/texts.xml'],
        }),
        'xl/texts.xml': `<x:sst xmlns:x="${main}"><x:si><x:t>shared</x:t></x:si></x:sst>`,
        'xl/worksheets/sheet1.xml': `<x:worksheet xmlns:x="${main}"><x:sheetData><x:row r="2"><x:c r="B2" t="s"><x:v>0</x:v></x:c></x:row></x:sheetData></x:worksheet>`,
      },
    });
    const [sheet] = workbookOf(bytes).sheets;
    expect(sheet).toMatchObject({ name: 'P & Q', hidden: true });
    expect(sheet?.rows).toEqual([
      {
        number: 2,
        hidden: false,
        cells: [{ column: 1, text: 'shared', value: 'shared', kind: 'text' }],
      },
    ]);
  });

  test('UTF-16 parts and CDATA (XML 1.0, 4.3.3 and 2.7)', () => {
    const xml = `<?xml version="1.0" encoding="UTF-16"?>${sheetXml('<row><c t="inlineStr"><is><t><![CDATA[12 Ω <cove>]]></t></is></c></row>')}`;
    const sheet = new Uint8Array(Buffer.from(`\uFEFF${xml}`, 'utf16le'));
    const bytes = packageBytes({ parts: { 'xl/worksheets/sheet1.xml': sheet } });
    expect(shownGrid(workbookOf(bytes).sheets[0])).toEqual([['12 Ω <cove>']]);
  });

  test('rich runs are joined, phonetic hints left out (18.4.8, 18.4.6)', () => {
    const strings =
      '<si><r><t xml:space="preserve">Co</t></r><r><rPr><b/></rPr><t>ve</t></r><rPh sb="0" eb="1"><t>kofu</t></rPh><phoneticPr fontId="1"/></si>';
    expect(cellsOf('<row><c t="s"><v>0</v></c></row>', { strings })).toMatchObject([
      { value: 'Cove' },
    ]);
  });

  test('_xHHHH_ escapes (22.9.2.19)', () => {
    const strings =
      '<si><t>_x0041_</t></si><si><t>_x005F_x0041_</t></si><si><t>a_x000D_b _x1_</t></si>';
    const rows = '<row><c t="s"><v>0</v></c><c t="s"><v>1</v></c><c t="s"><v>2</v></c></row>';
    expect(cellsOf(rows, { strings }).map((cell) => cell.value)).toEqual([
      'A',
      '_x0041_',
      'a\rb _x1_',
    ]);
  });

  test('dates stored as ISO text (18.18.11, type d), truth values, errors', () => {
    const rows =
      '<row><c t="d"><v>2024-02-29T00:00:00</v></c><c t="d"><v>2024-02-29T13:30:00Z</v></c>' +
      '<c t="b"><v>1</v></c><c t="b"><v>0</v></c><c t="e"><v>#REF!</v></c></row>';
    expect(cellsOf(rows).map(({ kind, value }) => [kind, value])).toEqual([
      ['date', '2024-02-29'],
      ['date', '2024-02-29T13:30:00Z'],
      ['boolean', true],
      ['boolean', false],
      ['error', '#REF!'],
    ]);
  });

  test('the two date systems: the same serial is 1462 days apart (18.17.4.1)', () => {
    const styles = '<cellXfs><xf numFmtId="0"/><xf numFmtId="14"/></cellXfs>';
    const rows = '<row><c s="1"><v>39448</v></c><c s="1"><v>1</v></c><c s="1"><v>61</v></c></row>';
    const values = (settings: string) =>
      cellsOf(rows, { styles, settings }).map((cell) => cell.value);
    expect(values('')).toEqual(['2008-01-01', '1900-01-01', '1900-03-01']);
    expect(values('<workbookPr date1904="1"/>')).toEqual([
      '2012-01-02',
      '1904-01-02',
      '1904-03-02',
    ]);
  });

  test('formula without a kept result is null, never 0; a kept empty text is a text (18.3.1.40)', () => {
    const rows =
      '<row><c><f>A9*2</f></c><c><f>A9*2</f><v/></c><c t="str"><f>""</f><v></v></c><c><f>1</f><v>0</v></c></row>';
    const workbook = workbookOf(packageBytes({ rows }));
    expect(workbook.sheets[0]?.rows[0]?.cells.map((cell) => cell.value)).toEqual([
      null,
      null,
      '',
      0,
    ]);
    expect(workbook.remarks.join()).toMatch(/2 formulas without a kept result/);
  });

  test('followers of a shared formula show their own references (18.3.1.40)', () => {
    const follower = (at: string) => `<c r="${at}"><f t="shared" si="0"/><v>1</v></c>`;
    const rows =
      `<row r="2"><c r="C2"><f t="shared" ref="C2:D3" si="0">SUM(A2,$B2,A$1,LOG10(A2),"A2",'A2'!B2,A:A,2:2)</f><v>1</v></c>${follower('D2')}</row>` +
      `<row r="3">${follower('C3')}</row>`;
    expect(cellsOf(rows).map((cell) => cell.formula)).toEqual([
      `SUM(A2,$B2,A$1,LOG10(A2),"A2",'A2'!B2,A:A,2:2)`,
      `SUM(B2,$B2,B$1,LOG10(B2),"A2",'A2'!C2,B:B,2:2)`,
      `SUM(A3,$B3,A$1,LOG10(A3),"A2",'A2'!B3,A:A,3:3)`,
    ]);
  });

  test('a comment thread replaces its stand-in note, replies joined (MS-XLSX 2.6.207)', () => {
    const bytes = packageBytes({
      rows: '<row r="1"><c r="A1"><v>5</v></c></row>',
      parts: {
        'xl/worksheets/_rels/sheet1.xml.rels': relationships({
          rId1: ['comments', '../comments1.xml'],
          rId2: [
            'http://schemas.microsoft.com/office/2017/10/relationships/threadedComment',
            '../threadedComments/threadedComment1.xml',
          ],
        }),
        'xl/comments1.xml':
          '<comments><authors><author>x</author></authors><commentList><comment ref="A1" authorId="0"><text><t>[Threaded comment] stand-in</t></text></comment><comment ref="B1" authorId="0"><text><r><t>for </t></r><r><t>B1</t></r></text></comment><comment ref="A9" authorId="0"><text><t>lost row</t></text></comment></commentList></comments>',
        'xl/threadedComments/threadedComment1.xml':
          '<ThreadedComments><threadedComment ref="A1" id="{1}"><text>Is 5 right?</text></threadedComment><threadedComment ref="A1" id="{2}" parentId="{1}"><text>Yes</text></threadedComment></ThreadedComments>',
      },
    });
    const workbook = workbookOf(bytes);
    expect(workbook.sheets[0]?.rows[0]?.cells).toEqual([
      { column: 0, text: '5', value: 5, kind: 'number', note: 'Is 5 right?\nYes' },
      { column: 1, text: '', value: '', kind: 'text', note: 'for B1' },
    ]);
    expect(workbook.remarks.join()).toMatch(/1 note stands on empty rows/);
  });

  test('numbers hold every digit stored: shortest text that reads back (ECMA-262, Number::toString)', () => {
    const stored = ['0.1', '87.300000000000011', '1E-7', '12345678901234567890', '-0', '1e3'];
    const rows = `<row>${stored.map((text) => `<c><v>${text}</v></c>`).join('')}</row>`;
    const cells = cellsOf(rows);
    expect(cells.map((cell) => cell.value)).toEqual(stored.map(Number));
    for (const cell of cells) expect(Number(cell.text)).toBe(cell.value === 0 ? 0 : cell.value);
  });
});

describe('what is put right or left out is told', () => {
  const remarksOf = (rows: string, after = '') => workbookOf(packageBytes({ rows, after }));

  test('values beneath merged cells, overlapping areas', () => {
    const workbook = remarksOf(
      '<row r="1"><c r="A1"><v>1</v></c><c r="B1"><v>2</v></c></row><row r="2"><c r="A2"><v>3</v></c></row>',
      '<mergeCells><mergeCell ref="A1:B2"/><mergeCell ref="B2:C3"/><mergeCell ref="A1:XFD1048576"/><mergeCell ref="D5"/></mergeCells>',
    );
    expect(shownGrid(workbook.sheets[0])).toEqual([['1']]);
    expect(workbook.sheets[0]?.merges).toEqual([
      { firstRow: 1, lastRow: 2, firstColumn: 0, lastColumn: 1 },
    ]);
    expect(workbook.remarks).toEqual([
      'Sheet Plan: 2 values beneath merged cells, not seen in the sheet, left out.',
      'Sheet Plan: 2 merged areas overlapping another left out.',
    ]);
  });

  test('rows out of order and cells given twice', () => {
    const workbook = remarksOf(
      '<row r="3"><c r="B3"><v>3</v></c><c r="A3"><v>2</v></c></row><row r="1"><c r="A1"><v>1</v></c></row><row r="3"><c r="A3"><v>9</v></c></row>',
    );
    expect(shownGrid(workbook.sheets[0])).toEqual([['1'], [], ['9', '3']]);
    expect(workbook.remarks.join()).toMatch(/1 cell stood in the file twice/);
  });

  test('links to other workbooks are counted, not followed', () => {
    const bytes = packageBytes({
      rows: '<row><c><f>[1]Plan!A1</f><v>4</v></c></row>',
      parts: {
        'xl/_rels/workbook.xml.rels': relationships({
          rId1: ['worksheet', 'worksheets/sheet1.xml'],
          rId2: ['externalLink', 'externalLinks/externalLink1.xml'],
        }),
      },
    });
    const workbook = workbookOf(bytes);
    expect(workbook.remarks).toEqual(['1 link to other workbooks was not followed.']);
    expect(workbook.sheets[0]?.rows[0]?.cells[0]).toMatchObject({
      value: 4,
      formula: '[1]Plan!A1',
    });
  });

  test('a sheet part outside of the file is refused, not fetched', () => {
    const bytes = packageBytes({
      parts: {
        'xl/_rels/workbook.xml.rels': relationships({
          rId1: ['worksheet', 'http://example.org/s.xml', 'TargetMode="External"'],
        }),
      },
    });
    expect(() => workbookOf(bytes)).toThrow(/outside-sheet/);
  });
});

test('names that mean something to the language are plain text', () => {
  const names = ['__proto__', 'constructor', 'toString', 'hasOwnProperty'];
  const rows = `<row>${names.map((name) => `<c t="inlineStr"><is><t>${name}</t></is></c>`).join('')}</row>`;
  const bytes = packageBytes({
    rows,
    parts: {
      'xl/workbook.xml': strToU8(
        workbookXml().replace('name="Plan"', 'name="__proto__" __proto__="x" constructor="y"'),
      ),
    },
  });
  const workbook = workbookOf(bytes);
  expect(workbook.sheets[0]?.name).toBe('__proto__');
  expect(shownGrid(workbook.sheets[0])).toEqual([names]);
  expect(Object.keys(Object.prototype)).toEqual([]);
});
