import { strToU8 } from 'fflate';
import { relationships } from '../package-builder.ts';
import { bad, readAs, refused } from './bad-input.ts';
import { goodRows, goodStrings, SHEET_LINKS, schedule, withParts } from './good-package.ts';

/** Rows, cells and ranges that no sheet has. Places after ECMA-376 part 1, 18.3.1.4 and 18.3.1.73. */

const row = (cells: string, attributes = 'r="5"') =>
  schedule({ rows: `${goodRows}<row ${attributes}>${cells}</row>` });
const after = (xml: string) => schedule({ after: xml });
const before = (xml: string) => {
  const bytes = schedule({});
  return bytes.length === 0 ? bytes : withSheetHead(xml);
};
const WHOLE = 'A1:XFD1048576';
const notes = (...references: readonly string[]) =>
  withParts({
    [SHEET_LINKS]: relationships({ rId1: ['comments', '/xl/notes.xml'] }),
    'xl/notes.xml': `<comments><commentList>${references
      .map((ref) => `<comment ref="${ref}"><text><t>n</t></text></comment>`)
      .join('')}</commentList></comments>`,
  });
const merges = (reference: string, times = 1) =>
  after(`<mergeCells>${`<mergeCell ref="${reference}"/>`.repeat(times)}</mergeCells>`);

function withSheetHead(xml: string): Uint8Array {
  const main = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
  return withParts({
    'xl/worksheets/sheet1.xml': strToU8(
      `<worksheet xmlns="${main}">${xml}<sheetData>${goodRows}</sheetData></worksheet>`,
    ),
  });
}

export const cellFaults = [
  bad('text number beyond the list', refused('string-place'), () => row('<c t="s"><v>77</v></c>')),
  bad('text number below 0', refused('string-number'), () => row('<c t="s"><v>-1</v></c>')),
  bad('text number that is none', refused('string-number'), () => row('<c t="s"><v>first</v></c>')),
  bad('text number with a fraction', refused('string-number'), () =>
    row('<c t="s"><v>1.5</v></c>'),
  ),
  bad(
    'style number beyond the list',
    readAs(3, /1 cell of a style that is not in the workbook/),
    () => row('<c r="J5" s="99"><v>4</v></c>'),
  ),
  bad(
    'style number that is none',
    readAs(3, /2 cells of a style that is not in the workbook/),
    () => row('<c r="J5" s="x"><v>4</v></c><c r="K5" s="-3"><v>4</v></c>'),
  ),
  bad('row 1,048,577', refused('row-outside'), () => row('<c><v>1</v></c>', 'r="1048577"'), {
    kind: 'row outside',
  }),
  bad('cell A1048577', refused('row-outside'), () => row('<c r="A1048577"><v>1</v></c>', ''), {
    kind: 'row outside',
  }),
  bad('cell XFE5', refused('column-outside'), () => row('<c r="XFE5"><v>1</v></c>')),
  bad('cell at "?"', refused('cell-reference'), () => row('<c r="?"><v>1</v></c>')),
  bad('row number that is none', refused('cell-reference'), () =>
    row('<c><v>1</v></c>', 'r="five"'),
  ),
  bad('row number 0', refused('cell-reference'), () => row('<c><v>1</v></c>', 'r="0"')),
  bad('rows out of order, a cell twice', readAs(3, /1 cell stood in the file twice/), () =>
    schedule({ rows: `${goodRows}<row r="3"><c r="J3"><v>1</v></c><c r="J3"><v>2</v></c></row>` }),
  ),
  bad('used range told as the whole sheet', readAs(3, null), () =>
    before(`<dimension ref="${WHOLE}"/>`),
  ),
  bad('columns described up to the last', readAs(3, null), () =>
    before('<cols><col min="1" max="16384" width="9" customWidth="1"/></cols>'),
  ),
  bad('all columns hidden', readAs(3, /hidden columns .*A:E/), () =>
    before('<cols><col min="1" max="16384" hidden="1"/></cols>'),
  ),
  bad('one merged area of the whole sheet', refused('no-schedule'), () => merges(WHOLE), {
    kind: 'no rows',
  }),
  bad('one merged area right of the table', readAs(3, null), () => merges('J1:XFD1048576')),
  bad(
    '49,999 merged areas of the whole sheet',
    refused('no-schedule'),
    () => merges(WHOLE, 49_999),
    {
      kind: 'no rows',
    },
  ),
  bad('50,001 merged areas', refused('merges'), () => merges('J1:K1', 50_001)),
  bad('merged areas at no place', readAs(3, /2 merged areas at a place no sheet has/), () =>
    after('<mergeCells><mergeCell ref="A9:XFE9"/><mergeCell ref="?"/></mergeCells>'),
  ),
  bad('a defined name of the whole sheet', readAs(3, null), () =>
    schedule({
      settings: `<definedNames><definedName name="all">Plan!$A$1:$XFD$1048576</definedName></definedNames>`,
    }),
  ),
  bad('a validation of the whole sheet', readAs(3, null), () =>
    after(
      `<dataValidations count="1"><dataValidation type="list" sqref="${WHOLE}"><formula1>"a,b"</formula1></dataValidation></dataValidations>`,
    ),
  ),
  bad('a conditional format of the whole sheet', readAs(3, null), () =>
    after(
      `<conditionalFormatting sqref="${WHOLE}"><cfRule type="expression" priority="1"><formula>1</formula></cfRule></conditionalFormatting>`,
    ),
  ),
  bad('a filter of the whole sheet', readAs(3, null), () =>
    after(
      `<autoFilter ref="${WHOLE}"><filterColumn colId="0"><filters/></filterColumn></autoFilter>`,
    ),
  ),
  bad('notes outside of the sheet', readAs(3, /2 notes stand at a place no sheet has/), () =>
    notes('XFE1', 'A1048577'),
  ),
  bad('a note on an empty row', readAs(3, /1 note stands on empty rows/), () => notes('B900')),
  bad(
    '50,001 notes',
    refused('notes'),
    () => notes(...Array.from({ length: 50_001 }, (_, at) => `A${at + 1}`)),
    { fresh: true },
  ),
  bad('formulas without a kept result', readAs(3, /3 formulas without a kept result/), () =>
    row('<c r="J5"><f>1+1</f></c><c r="K5"><f>SUM(D2:D4)</f><v/></c><c r="L5" t="s"><f>A1</f></c>'),
  ),
  bad(
    'a cell of more text than a cell holds',
    refused('long-cell'),
    () =>
      schedule({
        rows: `${goodRows}<row r="5"><c t="s"><v>10</v></c></row>`,
        strings: `${goodStrings}<si><t>${'x'.repeat(32_768)}</t></si>`,
      }),
    { kind: 'long cell' },
  ),
  bad('a formula of 40,000 characters', refused('long-formula'), () =>
    row(`<c r="J5"><f>${'1+'.repeat(20_000)}1</f><v>1</v></c>`),
  ),
  bad('a shared formula of 8,000 open quotation marks', readAs(3, null), () =>
    row(
      `<c r="J5"><f t="shared" si="0" ref="J5:AA5">${'&quot;A1'.repeat(4_001)}</f><v>1</v></c>${'<c><f t="shared" si="0"/><v>1</v></c>'.repeat(500)}`,
    ),
  ),
  bad('a number format of 1,000,000 blanks', readAs(3, null), () =>
    schedule({
      rows: `${goodRows}<row r="5"><c r="J5" s="1"><v>4</v></c></row>`,
      styles: `<numFmts><numFmt numFmtId="170" formatCode="${' '.repeat(1_000_000)}x"/></numFmts><cellXfs><xf/><xf numFmtId="170"/></cellXfs>`,
    }),
  ),
];
