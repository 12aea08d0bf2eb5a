/** Ways of writing a workbook that a change may break; each by hand, after ECMA-376 parts 1 to 4. */
import { zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { markUpWorkbook } from '../../src-main/workbook/patch/mark-up-workbook.ts';
import { insertAfter, removeFixtures } from '../../src-shared/document/edit-rows.ts';
import { packageParts, relationships } from '../workbook/package-builder.ts';
import { projectOf, readBytes } from './jobs.ts';
import {
  done,
  edited,
  header,
  markSmall,
  notesOf,
  readSmall,
  rowsXml,
  sixRows,
  smallBook,
  valueAt,
} from './small-book.ts';
import { childrenNamed, elementsOf, treeOf, under } from './xml-tree.ts';
import { readZip } from './zip-reading.ts';

const MAIN = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
const DOC = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
const part = 'xl/worksheets/sheet1.xml';
const rows = [header, ...sixRows];

function sheet(before: string, after: string, data = rowsXml(rows)): string {
  return `<worksheet xmlns="${MAIN}" xmlns:r="${DOC}">${before}<sheetData>${data}</sheetData>${after}</worksheet>`;
}

const withSheet = (text: string, parts: Record<string, string> = {}) =>
  smallBook(rows, { parts: { [part]: text, ...parts } });

describe('columns', () => {
  it('are split where a range reaches over ours; a hidden rest stays hidden', async () => {
    const cols =
      '<cols><col min="2" max="3" width="20" customWidth="1"/><col min="6" max="16384" width="11" style="0" hidden="1" customWidth="1"/></cols>';
    const bytes = withSheet(sheet(cols, ''));
    const out = await markSmall(bytes, readSmall(bytes).before);
    const list = elementsOf(under(out.sheet, 'cols') ?? out.sheet).map((c) => c.attributes);
    expect(list[0]).toEqual({ min: '2', max: '3', width: '20', customWidth: '1' });
    expect(list[1]).toMatchObject({ min: '6', max: '8', hidden: '1', width: '11' });
    expect(list.at(-1)).toMatchObject({ max: '16384', hidden: '1', width: '11' });
    const ours = list.slice(2, -1);
    expect(ours.map(({ min }) => Number(min))).toEqual(ours.map((_, i) => 9 + i));
    expect(ours.every(({ hidden }) => hidden === undefined)).toBe(true);
    expect(Number(list.at(-1)?.min)).toBe(9 + ours.length);
    for (const [i, { min, max }] of list.entries()) {
      expect(Number(max)).toBeGreaterThanOrEqual(Number(min));
      if (i > 0) expect(Number(min)).toBeGreaterThan(Number(list[i - 1]?.max));
    }
  });

  it('begin one further where a table ends at the last one', async () => {
    const table = `<table xmlns="${MAIN}" id="1" name="T" displayName="T" ref="A1:H7"><autoFilter ref="A1:H7"/><tableColumns count="8">${header.map((h, i) => `<tableColumn id="${i + 1}" name="${h}"/>`).join('')}</tableColumns></table>`;
    const bytes = withSheet(
      sheet('', '<tableParts count="1"><tablePart r:id="rId1"/></tableParts>'),
      {
        'xl/tables/table1.xml': table,
        'xl/worksheets/_rels/sheet1.xml.rels': relationships({
          rId1: ['table', '/xl/tables/table1.xml'],
        }),
      },
    );
    const { before } = readSmall(bytes);
    const out = await markSmall(bytes, before);
    expect(valueAt(out, 'I1')).toBeUndefined();
    expect(valueAt(out, 'J1')).toBe('Leads in span (m)');
    expect(out.parts.get('xl/tables/table1.xml')).toBe(table);
    // Sorting the table would leave our columns behind: the note at the ids says so.
    expect([...notesOf(out).values()].join('\n')).toContain('select the columns of both');
    const inserted = insertAfter(before, before.fixtures[1]?.id ?? '');
    if (inserted === null) throw new Error('not inserted');
    const more = await markSmall(bytes, done(before, inserted));
    // A row right below the table would be drawn into it.
    expect(valueAt(more, 'C8')).toBeUndefined();
    expect(valueAt(more, 'C9')).toBe('R1');
    expect(notesOf(more).get('A9')).toContain('A row that is not in the source file');
  });

  it('stand in a print area afterwards; titles stay', async () => {
    const names = `<definedNames><definedName name="_xlnm.Print_Area" localSheetId="0">Plan!$A$1:$H$7,Plan!$A$20:$B$22</definedName><definedName name="_xlnm.Print_Titles" localSheetId="0">Plan!$1:$1</definedName></definedNames>`;
    const book = `<workbook xmlns="${MAIN}" xmlns:r="${DOC}"><sheets><sheet name="Plan" sheetId="1" r:id="rId1"/></sheets>${names}</workbook>`;
    const bytes = smallBook(rows, { parts: { 'xl/workbook.xml': book } });
    const out = await markSmall(bytes, readSmall(bytes).before);
    const list = elementsOf(
      under(treeOf(out.parts.get('xl/workbook.xml') ?? ''), 'definedNames') ?? out.sheet,
    );
    const said = list.filter((n) => n.attributes.localSheetId === '0').map((n) => n.children[0]);
    const last = [...out.cells.keys()]
      .filter((key) => /^[A-Z]+1$/.test(key))
      .at(-1)
      ?.slice(0, -1);
    expect(said).toEqual([`Plan!$A$1:$${last}$7,Plan!$A$20:$B$22`, 'Plan!$1:$1']);
  });
});

it('a sheet that is full to its last column is refused', async () => {
  const cell = '<c r="XFA3"><v>1</v></c></row><row r="4">';
  const bytes = withSheet(sheet('', '', rowsXml(rows).replace('</row><row r="4">', cell)));
  const marked = await markUpWorkbook(bytes, 'plan.xlsx', readSmall(smallBook(rows)).before, {
    file: 0,
  });
  expect(marked).toMatchObject({ ok: false, reason: { code: 'no-room' } });
});

describe('prefixes and namespaces', () => {
  it('follow the part: a prefixed sheet gets prefixed cells, columns and styles', async () => {
    const prefixed = (text: string) => text.replace(/<(\/?)(\w)/g, '<$1x:$2');
    const text = `<x:worksheet xmlns:x="${MAIN}"><x:sheetData>${prefixed(rowsXml(rows))}</x:sheetData></x:worksheet>`;
    const bytes = withSheet(text);
    const { before } = readSmall(bytes);
    const out = await markSmall(bytes, edited(before, 'A-02', 'load', 41));
    expect(out.sheet.name).toBe(`{${MAIN}}worksheet`);
    for (const child of elementsOf(out.sheet))
      expect(child.name.startsWith(`{${MAIN}}`)).toBe(true);
    expect(valueAt(out, 'F3')).toBe('41');
    expect(out.parts.get(part)).not.toMatch(/<(row|c|cols)[ >]/);
  });

  it('of the strict form are kept to: links, sheets and elements of ours', async () => {
    const strict = (text: string) =>
      text
        .replaceAll(MAIN, 'http://purl.oclc.org/ooxml/spreadsheetml/main')
        .replaceAll(DOC, 'http://purl.oclc.org/ooxml/officeDocument/relationships');
    const parts = Object.fromEntries(
      [...packageParts({ rows: rowsXml(rows), styles: '' })].map(([name, bytes]) => [
        name,
        new TextEncoder().encode(strict(new TextDecoder().decode(bytes))),
      ]),
    );
    const bytes = zipSync(parts);
    const { before } = readSmall(bytes);
    const out = await markSmall(bytes, before);
    for (const [name, text] of out.parts) {
      if (!name.endsWith('.vml'))
        expect([name, text.includes('schemas.openxmlformats.org/officeDocument')]).toEqual([
          name,
          false,
        ]);
      if (name.startsWith('xl/') && !name.endsWith('.rels')) expect(text).not.toContain(MAIN);
    }
    expect(projectOf(out.bytes, 'plan.xlsx').fixtures.map((f) => f.id)).toEqual(
      before.fixtures.map((f) => f.id),
    );
  });
});

describe('rows and cells', () => {
  it('without references get ours at the right places', async () => {
    const bare = rowsXml(rows).replace(/ r="[A-Z]*\d+"/g, '');
    const bytes = withSheet(sheet('', '', bare));
    const { before } = readSmall(bytes);
    const out = await markSmall(bytes, edited(before, 'A-03', 'load', 44));
    const back = readBytes(out.bytes, 'plan.xlsx').sheets[0];
    const texts = back?.rows.map((row) => row.cells.map((cell) => cell.text));
    expect(texts?.[0]?.slice(0, 9)).toEqual([...header, 'Leads in span (m)']);
    expect(texts?.[3]?.slice(0, 8)).toEqual(['A-03', 'T1', 'R1', '3', '2.5', '44', '1', '19']);
  });

  it('spans, heights, groups and hidden rows stay; the span is widened', async () => {
    const tagged = rowsXml(rows).replace(
      '<row r="3">',
      '<row r="3" spans="1:8" ht="31.5" customHeight="1" outlineLevel="1">',
    );
    const bytes = withSheet(sheet('<dimension ref="A1:H7"/>', '', tagged));
    const out = await markSmall(bytes, readSmall(bytes).before);
    const row = childrenNamed(under(out.sheet, 'sheetData') ?? out.sheet, 'row')[2];
    expect(row?.attributes).toMatchObject({ ht: '31.5', customHeight: '1', outlineLevel: '1' });
    const last = Number(/:(\d+)$/.exec(row?.attributes.spans ?? '')?.[1]);
    expect(last).toBeGreaterThan(20);
    expect(under(out.sheet, 'dimension')?.attributes.ref).toBe('A1:V7');
  });

  it('protection, validations and formats of conditions stay', async () => {
    const after =
      '<sheetProtection sheet="1" objects="1" scenarios="1"/><conditionalFormatting sqref="A1:XFD9"><cfRule type="expression" priority="1"><formula>$A1=1</formula></cfRule></conditionalFormatting><dataValidations count="1"><dataValidation type="list" sqref="B2:B1048576"><formula1>"T1,T2"</formula1></dataValidation></dataValidations>';
    const bytes = withSheet(sheet('', after));
    const out = await markSmall(bytes, edited(readSmall(bytes).before, 'A-02', 'load', 41));
    expect(out.parts.get(part)).toContain(after);
  });

  it('of removed fixtures say so and come back removed; skipped rows get nothing', async () => {
    const bytes = smallBook([
      ...rows.slice(0, 4),
      ['Subtotal', null, null, null, null, 120],
      ...rows.slice(4),
    ]);
    const { before } = readSmall(bytes);
    const gone = before.fixtures.find((f) => f.tag === 'A-02')?.id ?? '';
    const job = done(before, removeFixtures(before, [gone]));
    const out = await markSmall(bytes, job);
    expect(valueAt(out, 'A3')).toBe('A-02');
    const texts = readBytes(out.bytes, 'plan.xlsx').sheets[0]?.rows;
    expect(texts?.[2]?.cells.map((c) => c.text)).toContain('no longer in the job');
    expect(texts?.[4]?.cells).toHaveLength(2);
    const back = projectOf(out.bytes, 'plan.xlsx');
    expect(back.fixtures.map((f) => f.tag)).toEqual(job.fixtures.map((f) => f.tag));
    const again = await markSmall(out.bytes, back);
    expect(JSON.stringify(again.sheet)).toContain('no longer in the job');
  });
});

describe('texts', () => {
  it('that begin like formulas are quoted text; what XML cannot hold is escaped', async () => {
    const bytes = smallBook([
      [...header, 'Remarks'],
      ...sixRows.map((row) => [...row, 'as built']),
    ]);
    const { before } = readSmall(bytes);
    let job = edited(before, 'A-01', 'remarks', '=1+1 & <b>"two"</b>');
    job = edited(job, 'A-02', 'remarks', 'bell \u0007, _x0041_, \ttab');
    const out = await markSmall(bytes, job);
    const styles = treeOf(out.parts.get('xl/styles.xml') ?? '');
    const quoted = elementsOf(under(styles, 'cellXfs') ?? styles)[
      Number(out.cells.get('I2')?.attributes.s)
    ];
    expect(quoted?.attributes.quotePrefix).toBe('1');
    expect(out.cells.get('I2')?.attributes.t).toBe('inlineStr');
    expect(out.parts.get(part)).toContain('bell _x0007_, _x005F_x0041_, \ttab');
    const back = projectOf(out.bytes, 'plan.xlsx');
    expect(back.fixtures.slice(0, 1).map((f) => f.remarks)).toEqual(['=1+1 & <b>"two"</b>']);
  });
});

describe('notes', () => {
  const comments = `<comments xmlns="${MAIN}"><authors><author>Desk 4</author></authors><commentList><comment ref="A2" authorId="0"><text><t>check on site</t></text></comment></commentList></comments>`;
  const vml =
    '<xml xmlns:v="urn:schemas-microsoft-com:vml" xmlns:o="urn:schemas-microsoft-com:office:office" xmlns:x="urn:schemas-microsoft-com:office:excel"><v:shape id="_x0000_s1025" type="#_x0000_t202"><x:ClientData ObjectType="Note"><x:Row>1</x:Row><x:Column>0</x:Column></x:ClientData></v:shape><v:shape id="_x0000_s1026"><x:ClientData ObjectType="Button"/></v:shape></xml>';
  const twins = [header, ...sixRows.map((row, i) => (i === 1 ? ['A-01', ...row.slice(1)] : row))];
  const bytes = smallBook(twins, {
    parts: {
      [part]: sheet('', '<legacyDrawing r:id="rId7"/>', rowsXml(twins)),
      'xl/comments1.xml': comments,
      'xl/drawings/vmlDrawing1.vml': vml,
      'xl/worksheets/_rels/sheet1.xml.rels': relationships({
        rId7: ['vmlDrawing', '../drawings/vmlDrawing1.vml'],
        rId8: ['comments', '../comments1.xml'],
      }),
    },
  });

  it('of the engineer keep their cell; ours for it stands under Findings', async () => {
    const out = await markSmall(bytes, readSmall(bytes).before);
    const notes = notesOf(out);
    expect(notes.get('A2')).toBe('check on site');
    expect(notes.get('A3')).toContain('Duplicate tag');
    const findings = [...out.cells].find(
      ([key]) => /^[A-Z]+1$/.test(key) && valueAt(out, key) === 'Findings',
    );
    const column = findings?.[0].slice(0, -1);
    expect(notes.get(`${column}2`)).toContain(
      'A2, which has a note already: B breach: Duplicate tag',
    );
    const shapes = elementsOf(treeOf(out.parts.get('xl/drawings/vmlDrawing1.vml') ?? ''));
    const ids = shapes.map((shape) => shape.attributes.id);
    expect(ids.slice(0, 2)).toEqual(['_x0000_s1025', '_x0000_s1026']);
    expect(new Set(ids).size).toBe(ids.length);
    // Each note has its box.
    expect(shapes.filter((s) => JSON.stringify(s).includes('"Note"'))).toHaveLength(notes.size);
  });
});

describe('the container', () => {
  /** A zip as streaming writers make it: sizes behind the content, extra fields, a comment. */
  function streamed(files: ReadonlyMap<string, Uint8Array>): Uint8Array {
    const bodies: Buffer[] = [];
    const records: Buffer[] = [];
    let offset = 0;
    for (const { name, packed, content, directoryRecord } of readZip(
      zipSync(Object.fromEntries(files)),
    ).entries) {
      const nameBytes = Buffer.from(name);
      const extra = Buffer.from([0x55, 0x54, 5, 0, 1, 1, 2, 3, 4]);
      const local = Buffer.alloc(30);
      local.writeUInt32LE(0x04034b50, 0);
      local.writeUInt16LE(20, 4);
      local.writeUInt16LE(8, 6);
      local.writeUInt16LE(8, 8);
      local.writeUInt16LE(nameBytes.length, 26);
      local.writeUInt16LE(extra.length, 28);
      const descriptor = Buffer.alloc(16);
      descriptor.writeUInt32LE(0x08074b50, 0);
      descriptor.writeUInt32LE(directoryRecord.readUInt32LE(16), 4);
      descriptor.writeUInt32LE(packed.length, 8);
      descriptor.writeUInt32LE(content.length, 12);
      bodies.push(Buffer.concat([local, nameBytes, extra, packed, descriptor]));
      // Offset and sizes as 64-bit values (APPNOTE.TXT 4.5.3), as some writers always have them.
      const wide = Buffer.alloc(28);
      wide.writeUInt16LE(1, 0);
      wide.writeUInt16LE(24, 2);
      wide.writeBigUInt64LE(BigInt(content.length), 4);
      wide.writeBigUInt64LE(BigInt(packed.length), 12);
      wide.writeBigUInt64LE(BigInt(offset), 20);
      const record = Buffer.from(directoryRecord.subarray(0, 46));
      record.writeUInt16LE(8, 8);
      for (const at of [20, 24, 42]) record.writeUInt32LE(0xffffffff, at);
      record.writeUInt16LE(wide.length, 30);
      record.writeUInt16LE(0, 32);
      records.push(Buffer.concat([record, nameBytes, wide]));
      offset += bodies.at(-1)?.length ?? 0;
    }
    const end = Buffer.alloc(22);
    end.writeUInt32LE(0x06054b50, 0);
    end.writeUInt16LE(records.length, 8);
    end.writeUInt16LE(records.length, 10);
    end.writeUInt32LE(
      records.reduce((sum, one) => sum + one.length, 0),
      12,
    );
    end.writeUInt32LE(offset, 16);
    end.writeUInt16LE(9, 20);
    return new Uint8Array(Buffer.concat([...bodies, ...records, end, Buffer.from('by a site')]));
  }

  it('with data descriptors, extra fields, 64-bit offsets and a comment keeps them', async () => {
    const files = packageParts({
      rows: rowsXml(rows),
      parts: { 'customXml/item1.xml': '<a>kept</a>' },
    });
    const bytes = streamed(files);
    const { before } = readSmall(bytes);
    const marked = await markUpWorkbook(bytes, 'plan.xlsx', before, { file: 0 });
    if (!marked.ok) throw new Error(marked.reason.what);
    const file = Buffer.from(marked.bytes);
    expect(file.subarray(-9).toString()).toBe('by a site');
    // The untouched part stands there with header, content and descriptor as it came.
    const at = Buffer.from(bytes).indexOf('customXml/item1.xml') - 30;
    const size = Buffer.from(bytes).indexOf(Buffer.from([0x50, 0x4b]), at + 60) + 16 - at;
    expect(file.includes(Buffer.from(bytes.subarray(at, at + size)))).toBe(true);
    const again = projectOf(marked.bytes, 'plan.xlsx');
    expect(again.fixtures.map((f) => f.tag)).toEqual(before.fixtures.map((f) => f.tag));
  });

  it('that is signed is refused with a reason', async () => {
    const bytes = smallBook(rows, { parts: { '_xmlsignatures/origin.sigs': '' } });
    const marked = await markUpWorkbook(bytes, 'plan.xlsx', readSmall(bytes).before, { file: 0 });
    expect(marked).toMatchObject({ ok: false, reason: { code: 'signed', where: 'plan.xlsx' } });
  });

  it('that is no workbook any more is refused, never thrown', async () => {
    const { before } = readSmall(smallBook());
    for (const bytes of [
      new Uint8Array(),
      new TextEncoder().encode('a,b'),
      smallBook().slice(0, 900),
    ]) {
      const marked = await markUpWorkbook(bytes, 'plan.xlsx', before, { file: 0 });
      expect(marked.ok).toBe(false);
    }
  });

  it('whose sheet is gone is refused', async () => {
    const { before } = readSmall(smallBook());
    const other = smallBook(rows, {
      parts: {
        'xl/workbook.xml': `<workbook xmlns="${MAIN}" xmlns:r="${DOC}"><sheets><sheet name="Other" sheetId="1" r:id="rId1"/></sheets></workbook>`,
      },
    });
    const marked = await markUpWorkbook(other, 'plan.xlsx', before, { file: 0 });
    expect(marked).toMatchObject({ ok: false, reason: { code: 'lost-sheet' } });
  });
});

it('a sheet of the engineer named as ours keeps its name; ours takes another', async () => {
  const bytes = smallBook(rows, {
    parts: {
      'xl/workbook.xml': `<workbook xmlns="${MAIN}" xmlns:r="${DOC}"><sheets><sheet name="Plan" sheetId="1" r:id="rId1"/><sheet name="findings" sheetId="4" r:id="rId2"/></sheets></workbook>`,
      'xl/_rels/workbook.xml.rels': relationships({
        rId1: ['worksheet', 'worksheets/sheet1.xml'],
        rId2: ['worksheet', 'worksheets/sheet2.xml'],
      }),
      'xl/worksheets/sheet2.xml': sheet('', '', rowsXml([['of the survey']])),
    },
  });
  const out = await markSmall(bytes, readSmall(bytes).before);
  const names = readBytes(out.bytes, 'plan.xlsx').sheets.map(({ name }) => name);
  expect(names.slice(0, 3)).toEqual(['Plan', 'findings', 'Findings, Runledger']);
  const ids = elementsOf(
    under(treeOf(out.parts.get('xl/workbook.xml') ?? ''), 'sheets') ?? out.sheet,
  ).map((s) => s.attributes.sheetId);
  expect(new Set(ids).size).toBe(ids.length);
  const again = await markSmall(out.bytes, projectOf(out.bytes, 'plan.xlsx'));
  expect(readBytes(again.bytes, 'plan.xlsx').sheets.map(({ name }) => name)).toEqual(names);
});
