/** Packages that leave out what others always write, or write it in a rarer form; by hand, after ECMA-376. */
import { describe, expect, it } from 'vitest';
import { relationships } from '../workbook/package-builder.ts';
import { projectOf } from './jobs.ts';
import {
  header,
  type MarkedSheet,
  markSmall,
  notesOf,
  readSmall,
  rowsXml,
  sixRows,
  smallBook,
  valueAt,
} from './small-book.ts';
import { childrenNamed, elementsOf, localOf, treeOf, under } from './xml-tree.ts';

const MAIN = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
const DOC = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
const part = 'xl/worksheets/sheet1.xml';
const links = 'xl/worksheets/_rels/sheet1.xml.rels';
const rows = [header, ...sixRows];

const sheet = (before: string, after: string) =>
  `<worksheet xmlns="${MAIN}" xmlns:r="${DOC}">${before}<sheetData>${rowsXml(rows)}</sheetData>${after}</worksheet>`;

async function marked(parts: Record<string, string>, styles?: string): Promise<MarkedSheet> {
  const bytes = smallBook(rows, { parts, ...(styles === undefined ? {} : { styles }) });
  const { before } = readSmall(bytes);
  const out = await markSmall(bytes, before);
  const back = projectOf(out.bytes, 'plan.xlsx');
  expect(back.fixtures.map(({ id, tag }) => [id, tag])).toEqual(
    before.fixtures.map(({ id, tag }) => [id, tag]),
  );
  return out;
}

describe('a styles part', () => {
  const plain = `<xf numFmtId="0" fontId="0" fillId="0" borderId="0"/>`;
  it.each([
    ['that is one empty element', `<styleSheet xmlns="${MAIN}"/>`],
    ['without any list', `<styleSheet xmlns="${MAIN}"></styleSheet>`],
    [
      'with empty lists',
      `<styleSheet xmlns="${MAIN}"><fonts/><fills/><borders/><cellXfs/></styleSheet>`,
    ],
    [
      'with one fill',
      `<styleSheet xmlns="${MAIN}"><fills><fill><patternFill patternType="none"/></fill></fills><cellXfs>${plain}</cellXfs></styleSheet>`,
    ],
    [
      'without cell styles',
      `<styleSheet xmlns="${MAIN}"><fonts><font><b/></font></fonts><dxfs/></styleSheet>`,
    ],
  ])('%s gets what comes first in each list, so that plain cells stay plain', async (_, text) => {
    const out = await marked({ 'xl/styles.xml': text }, '');
    const styles = treeOf(out.parts.get('xl/styles.xml') ?? '');
    const list = (name: string) => elementsOf(under(styles, name) ?? styles);
    // ECMA-376 part 1, 18.3.1.4: a cell without style has style 0.
    const [first] = list('cellXfs');
    expect(first?.attributes).toMatchObject({
      numFmtId: '0',
      fontId: '0',
      fillId: '0',
      borderId: '0',
    });
    expect(first?.children).toEqual([]);
    // Spreadsheet programs take the first two fills for these, whatever is written (common practice, no source).
    const fills = list('fills').map((fill) => under(fill, 'patternFill')?.attributes.patternType);
    expect(fills.slice(0, 2)).toEqual(['none', 'gray125']);
    for (const look of list('cellXfs')) {
      const places = [
        ['fonts', 'fontId'],
        ['fills', 'fillId'],
        ['borders', 'borderId'],
      ] as const;
      for (const [name, id] of places) {
        expect(Number(look.attributes[id] ?? 0)).toBeLessThan(list(name).length);
      }
    }
    const styled = [...out.cells.values()].map(({ attributes }) => Number(attributes.s ?? 0));
    expect(Math.max(...styled)).toBeLessThan(list('cellXfs').length);
    // ECMA-376 part 1, 18.8.39: the order of the lists.
    const order = ['numFmts', 'fonts', 'fills', 'borders', 'cellXfs', 'dxfs'];
    const names = elementsOf(styles).map(localOf);
    expect(names).toEqual(order.filter((name) => names.includes(name)));
  });
});

describe('notes', () => {
  it.each([
    ['without lists', `<comments xmlns="${MAIN}"/>`],
    ['without authors', `<comments xmlns="${MAIN}"><commentList/></comments>`],
    [
      'without notes',
      `<x:comments xmlns:x="${MAIN}"><x:authors><x:author>Desk 4</x:author></x:authors></x:comments>`,
    ],
  ])('a part %s gets the lists it lacks, in order', async (_, text) => {
    const out = await marked({
      'xl/comments1.xml': text,
      [links]: relationships({ rId1: ['comments', '../comments1.xml'] }),
    });
    const comments = treeOf(out.parts.get('xl/comments1.xml') ?? '');
    expect(elementsOf(comments).map(({ name }) => name)).toEqual([
      `{${MAIN}}authors`,
      `{${MAIN}}commentList`,
    ]);
    const authors = elementsOf(under(comments, 'authors') ?? comments);
    for (const note of elementsOf(under(comments, 'commentList') ?? comments)) {
      const by = authors[Number(note.attributes.authorId)];
      expect(by?.children).toEqual(['Runledger']);
    }
    expect(notesOf(out).size).toBeGreaterThan(0);
  });

  it('get the parts that links lead to where those got lost', async () => {
    const out = await marked({
      [part]: sheet('', '<legacyDrawing r:id="rId2"/>'),
      [links]: relationships({
        rId1: ['comments', '../comments9.xml'],
        rId2: ['vmlDrawing', '../drawings/vmlDrawing9.vml'],
      }),
    });
    const notes = notesOf(out, 'xl/comments9.xml');
    expect(notes.size).toBeGreaterThan(0);
    const boxes = elementsOf(treeOf(out.parts.get('xl/drawings/vmlDrawing9.vml') ?? ''));
    expect(boxes.filter((box) => localOf(box) === 'shape')).toHaveLength(notes.size);
    const types = out.parts.get('[Content_Types].xml');
    expect(types).toContain('PartName="/xl/comments9.xml"');
    expect(types).toContain('Extension="vml"');
  });
});

describe('around the rows', () => {
  it('columns stated in two lists become one, also the second time', async () => {
    const two =
      '<cols><col min="1" max="2" width="7"/></cols><cols><col min="5" max="20" width="8"/></cols>';
    const out = await marked({ [part]: sheet(two, '') });
    const again = await markSmall(out.bytes, projectOf(out.bytes, 'plan.xlsx'));
    for (const { sheet: tree } of [out, again]) {
      expect(childrenNamed(tree, 'cols')).toHaveLength(1);
      const list = elementsOf(under(tree, 'cols') ?? tree).map(({ attributes }) => attributes);
      expect(list.slice(0, 2)).toEqual([
        { min: '1', max: '2', width: '7' },
        { min: '5', max: '8', width: '8' },
      ]);
      list.forEach(({ min }, i) => {
        expect(Number(min)).toBeGreaterThan(Number(list[i - 1]?.max ?? 0));
      });
    }
  });

  it('the boxes of notes are stated before a drawing of headers', async () => {
    // ECMA-376 part 4, CT_Worksheet of the transitional schema; order from memory.
    const out = await marked({
      [part]: sheet('', '<pageSetup/><drawingHF r:id="rId9"/><extLst/>'),
    });
    const names = elementsOf(out.sheet).map(localOf);
    expect(names.slice(-4)).toEqual(['pageSetup', 'legacyDrawing', 'drawingHF', 'extLst']);
  });
});

describe('print areas', () => {
  const printed = async (area: string) => {
    const out = await marked({
      'xl/workbook.xml': `<workbook xmlns="${MAIN}" xmlns:r="${DOC}"><sheets><sheet name="Plan" sheetId="1" r:id="rId1"/></sheets><definedNames><definedName name="_xlnm.Print_Area" localSheetId="0">${area}</definedName></definedNames></workbook>`,
    });
    const headers = [...out.cells.keys()].filter((key) => /^[A-Z]+1$/.test(key));
    const last = headers.at(-1)?.slice(0, -1) ?? '';
    expect(valueAt(out, `${last}1`)).toBeDefined();
    const names = elementsOf(
      under(treeOf(out.parts.get('xl/workbook.xml') ?? ''), 'definedNames') ?? out.sheet,
    );
    return {
      last,
      said: names.find((name) => name.attributes.name === '_xlnm.Print_Area')?.children[0],
    };
  };

  it('of whole columns reach over ours', async () => {
    const { last, said } = await printed('Plan!$A:$H');
    expect(said).toBe(`Plan!$A:$${last}`);
  });

  it('side by side print ours once, with the last of them', async () => {
    const { last, said } = await printed('Plan!$A$1:$D$7,Plan!$E$1:$H$7');
    expect(said).toBe(`Plan!$A$1:$D$7,Plan!$E$1:$${last}$7`);
  });
});
