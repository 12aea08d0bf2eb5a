/**
 * Formulas of the engineer's when cells change: ECMA-376 part 1, 18.3.1.40 (shared and array formulas)
 * and 18.6 (calculation chain).
 */
import { describe, expect, it } from 'vitest';
import { relationships } from '../workbook/package-builder.ts';
import { projectOf } from './jobs.ts';
import {
  edited,
  formulaAt,
  header,
  markSmall,
  notesOf,
  readSmall,
  rowsXml,
  type SmallCell,
  sixRows,
  smallBook,
  valueAt,
} from './small-book.ts';
import { treeOf, under } from './xml-tree.ts';

const f = (text: string, value: number | string, more = ''): SmallCell => ({
  xml: `<f${more}>${text}</f><v>${value}</v>`,
});

/** Start addresses as a chain of formulas: each the one above and nine. */
const chained = sixRows.map((row, i) =>
  i === 0 ? row : [...row.slice(0, 7), f(`H${i + 1}+9`, 1 + 9 * i)],
);

/** The same as one shared formula. */
const shared = sixRows.map((row, i) => {
  if (i === 0) return row;
  const more = i === 1 ? ' t="shared" ref="H3:H7" si="0"' : ' t="shared" si="0"';
  return [...row.slice(0, 7), f(i === 1 ? 'H2+9' : '', 1 + 9 * i, more)];
});

const totals: readonly SmallCell[] = ['Total', null, null, null, null, f('SUM(F2:F7)', 240)];

describe('a sum over edited cells', () => {
  const bytes = smallBook([header, ...sixRows, [], totals]);

  it('keeps its formula, loses its stored result and is calculated on opening', async () => {
    const { before } = readSmall(bytes);
    const out = await markSmall(bytes, edited(before, 'A-03', 'load', 41.5));
    expect(valueAt(out, 'F4')).toBe('41.5');
    expect(formulaAt(out, 'F9')?.children).toEqual(['SUM(F2:F7)']);
    expect(valueAt(out, 'F9')).toBeUndefined();
    const calcPr = under(treeOf(out.parts.get('xl/workbook.xml') ?? ''), 'calcPr');
    expect(calcPr?.attributes.fullCalcOnLoad).toBe('1');
    expect(out.remarks.join(' ')).toContain('1 result of the workbook');
  });

  it('keeps its result where nothing it looks at has changed', async () => {
    const { before } = readSmall(bytes);
    const out = await markSmall(bytes, edited(before, 'A-03', 'span', 3));
    expect(valueAt(out, 'F9')).toBe('240');
    expect(under(treeOf(out.parts.get('xl/workbook.xml') ?? ''), 'calcPr')).toBeUndefined();
  });
});

describe.each([
  ['one by one', chained],
  ['shared', shared],
])('addresses that are formulas, %s', (_, rows) => {
  const bytes = smallBook([header, ...rows]);

  it('keep the values of the document when one of them is edited', async () => {
    const { before } = readSmall(bytes);
    const job = edited(before, 'A-03', 'address', 100);
    const out = await markSmall(bytes, job);
    expect(valueAt(out, 'H4')).toBe('100');
    expect(formulaAt(out, 'H4')).toBeUndefined();
    // A-02 looks at A-01, which has not changed; A-04 would have become 109.
    expect(formulaAt(out, 'H3')?.children).toEqual(['H2+9']);
    expect(formulaAt(out, 'H5')).toBeUndefined();
    expect(valueAt(out, 'H5')).toBe('28');
    expect(notesOf(out).get('H5')).toContain('Was the formula =H4+9');
    const back = projectOf(out.bytes, 'plan.xlsx');
    expect(back.fixtures.map((x) => x.address)).toEqual(job.fixtures.map((x) => x.address));
  });
});

describe('the first cell of a group of shared formulas', () => {
  // Column I is carried along: nothing the document says.
  const rows = sixRows.map((row, i) => {
    const more = i === 0 ? ' t="shared" ref="I2:I7" si="3"' : ' t="shared" si="3"';
    return [...row, f(i === 0 ? 'F2*2' : '', 80, more)];
  });

  it('that is replaced hands its formula to the next one', async () => {
    const load = sixRows.map((row, i) => {
      const more = i === 0 ? ' t="shared" ref="F2:F7" si="1"' : ' t="shared" si="1"';
      return [...row.slice(0, 5), f(i === 0 ? 'E2*16' : '', 40, more), ...row.slice(6)];
    });
    const bytes = smallBook([header, ...load]);
    const out = await markSmall(bytes, edited(readSmall(bytes).before, 'A-01', 'load', 50));
    expect(valueAt(out, 'F2')).toBe('50');
    expect(formulaAt(out, 'F2')).toBeUndefined();
    expect(formulaAt(out, 'F3')).toMatchObject({
      attributes: { t: 'shared', si: '1', ref: 'F3:F7' },
      children: ['E3*16'],
    });
    expect(formulaAt(out, 'F4')).toMatchObject({ attributes: { si: '1' }, children: [] });
    expect(valueAt(out, 'F4')).toBe('40');
  });

  it('stays where its group only looks at edited cells, without stale results', async () => {
    const bytes = smallBook([[...header, 'Twice'], ...rows]);
    const out = await markSmall(bytes, edited(readSmall(bytes).before, 'A-02', 'load', 50));
    expect(formulaAt(out, 'I2')?.children).toEqual(['F2*2']);
    expect(valueAt(out, 'I2')).toBe('80');
    expect(valueAt(out, 'I3')).toBeUndefined();
    expect(valueAt(out, 'I4')).toBe('80');
  });
});

describe('a cell of a formula over several cells', () => {
  const rows = sixRows.map((row, i) => [
    ...row.slice(0, 5),
    i === 0 ? f('E2:E7*16', 40, ' t="array" ref="F2:F7"') : 40,
    ...row.slice(6),
  ]);

  it('is not written over: the edit stands in a sheet of its own, and the row says so', async () => {
    const bytes = smallBook([header, ...rows]);
    const job = edited(readSmall(bytes).before, 'A-02', 'load', 50);
    const out = await markSmall(bytes, job);
    expect(valueAt(out, 'F3')).toBe('40');
    expect(formulaAt(out, 'F2')?.children).toEqual(['E2:E7*16']);
    expect([...notesOf(out).values()].join('\n')).toContain(
      'Not written into this row: Load W (a formula over several cells)',
    );
    expect(out.remarks.join(' ')).toContain('Marked-up fixtures');
    const back = projectOf(out.bytes, 'plan.xlsx');
    expect(back.fixtures.map((x) => x.loadW)).toEqual(job.fixtures.map((x) => x.loadW));
  });
});

describe('the calculation chain', () => {
  const chain = (entries: string) =>
    `<calcChain xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">${entries}</calcChain>`;
  const withChain = (entries: string) =>
    smallBook([header, ...chained], {
      parts: {
        'xl/calcChain.xml': chain(entries),
        'xl/_rels/workbook.xml.rels': relationships({
          rId1: ['worksheet', 'worksheets/sheet1.xml'],
          rId2: ['calcChain', 'calcChain.xml'],
        }),
      },
    });

  it('loses the cells that have no formula any more, and entries behind keep their sheet', async () => {
    const bytes = withChain(
      '<c r="H3" i="1"/><c r="H4"/><c r="H5" i="2"/><c r="H6"/><c r="H7" i="1"/>',
    );
    const out = await markSmall(bytes, edited(readSmall(bytes).before, 'A-06', 'address', 300));
    // H5 and H6 there are of another sheet.
    expect(out.parts.get('xl/calcChain.xml')).toBe(
      chain('<c r="H3" i="1"/><c r="H4"/><c r="H5" i="2"/><c r="H6"/>'),
    );
  });

  it('states the sheet again where the entry that stated it is gone', async () => {
    const bytes = withChain('<c r="B9" i="2"/><c r="H7" i="1"/><c r="H3"/><c r="H4"/>');
    const out = await markSmall(bytes, edited(readSmall(bytes).before, 'A-06', 'address', 300));
    expect(out.parts.get('xl/calcChain.xml')).toBe(
      chain('<c r="B9" i="2"/><c r="H3" i="1"/><c r="H4"/>'),
    );
  });

  it('goes as a whole when it would be empty', async () => {
    const bytes = withChain('<c r="H7" i="1"/>');
    const out = await markSmall(bytes, edited(readSmall(bytes).before, 'A-06', 'address', 300));
    expect(out.parts.has('xl/calcChain.xml')).toBe(false);
    expect(out.parts.get('xl/_rels/workbook.xml.rels')).not.toContain('calcChain');
  });
});

it('a formula on another sheet, through a name, is calculated anew', async () => {
  const main = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
  const doc = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
  const sums = rowsXml([[f('SUM(Loads)', 240), f('1+1', 2), f('Plan!E2&amp;"F3"', '2.5F3')]]);
  const bytes = smallBook([header, ...sixRows], {
    parts: {
      'xl/workbook.xml': `<workbook xmlns="${main}" xmlns:r="${doc}"><sheets><sheet name="Plan" sheetId="1" r:id="rId1"/><sheet name="Sums" sheetId="2" r:id="rId2"/></sheets><definedNames><definedName name="Loads">Plan!$F$2:$F$7</definedName></definedNames></workbook>`,
      'xl/_rels/workbook.xml.rels': relationships({
        rId1: ['worksheet', 'worksheets/sheet1.xml'],
        rId2: ['worksheet', 'worksheets/sums.xml'],
      }),
      'xl/worksheets/sums.xml': `<worksheet xmlns="${main}"><sheetData>${sums}</sheetData></worksheet>`,
    },
  });
  const out = await markSmall(bytes, edited(readSmall(bytes).before, 'A-02', 'load', 50));
  const after = out.parts.get('xl/worksheets/sums.xml') ?? '';
  expect(after).toContain('<c r="A1" ><f>SUM(Loads)</f></c>');
  expect(after).toContain('<f>1+1</f><v>2</v>');
  expect(after).toContain('<v>2.5F3</v>');
});
