import { relationships, sheetXml } from '../package-builder.ts';
import { bad, readAs, refused } from './bad-input.ts';
import {
  goodRows,
  partText,
  SHEET,
  SHEET_LINKS,
  STRINGS,
  schedule,
  WORKBOOK,
  WORKBOOK_LINKS,
  withParts,
} from './good-package.ts';

/** Parts that are missing, elsewhere, or not what they should be. Structure after ECMA-376 part 2, 6. */

const MAIN = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
const DOC = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';

/** A workbook part listing sheets by name and link. */
const listing = (...sheets: readonly (readonly [name: string, link: string])[]) =>
  `<workbook xmlns="${MAIN}" xmlns:r="${DOC}"><sheets>${sheets
    .map(([name, link], at) => `<sheet name="${name}" sheetId="${at + 1}" r:id="${link}"/>`)
    .join('')}</sheets></workbook>`;

const linked = (links: Parameters<typeof relationships>[0]) =>
  withParts({ [WORKBOOK_LINKS]: relationships(links) });
const strings = { rId2: ['sharedStrings', 'sharedStrings.xml'] as const };
const sheetAt = (target: string, more = '') =>
  linked({ rId1: ['worksheet', target, more], ...strings });
const onSheet = (links: Parameters<typeof relationships>[0]) =>
  withParts({ [SHEET_LINKS]: relationships(links) });

export const partFaults = [
  bad('no [Content_Types].xml', readAs(3, /lacks \[Content_Types\]\.xml/), () =>
    withParts({ '[Content_Types].xml': undefined }),
  ),
  bad('no _rels/.rels', readAs(3, /lacks _rels\/\.rels/), () =>
    withParts({ '_rels/.rels': undefined }),
  ),
  bad('no list of sheets', refused('missing-workbook'), () => withParts({ [WORKBOOK]: undefined })),
  bad('list of sheets outside of the file', refused('outside-workbook'), () =>
    withParts({
      '_rels/.rels': relationships({ rId1: ['officeDocument', '../../other/workbook.xml'] }),
    }),
  ),
  bad('no links of the workbook', refused('missing-link'), () =>
    withParts({ [WORKBOOK_LINKS]: undefined }),
  ),
  bad('sheet listed but not there', refused('missing-sheet'), () =>
    withParts({ [SHEET]: undefined }),
  ),
  bad(
    'sheet outside: an address',
    refused('outside-sheet'),
    () => sheetAt('http://example.org/s.xml', 'TargetMode="External"'),
    { kind: 'outside sheet' },
  ),
  bad('sheet outside: a path upward', refused('outside-sheet'), () => sheetAt('../../../s.xml'), {
    kind: 'outside sheet',
  }),
  bad('sheet outside: a file address', refused('outside-sheet'), () => sheetAt('file:///s.xml'), {
    kind: 'outside sheet',
  }),
  bad(
    'texts not there, though used',
    refused('missing-strings'),
    () => withParts({ [STRINGS]: undefined }),
    {
      kind: 'no texts',
    },
  ),
  bad(
    'texts not linked, though used',
    refused('missing-strings'),
    () => linked({ rId1: ['worksheet', 'worksheets/sheet1.xml'] }),
    {
      kind: 'no texts',
    },
  ),
  bad('styles linked but not there', readAs(3, /names styles .* but does not hold them/), () =>
    linked({
      rId1: ['worksheet', 'worksheets/sheet1.xml'],
      ...strings,
      rId3: ['styles', 'styles.xml'],
    }),
  ),
  bad('notes linked but not there', readAs(3, /notes .*comments7\.xml.* not in the file/), () =>
    onSheet({ rId1: ['comments', '../comments7.xml'] }),
  ),
  bad('an empty sheet part', refused('part-empty'), () =>
    withParts({ [SHEET]: new Uint8Array(0) }),
  ),
  bad('a sheet that is a list of texts', refused('wrong-part'), () =>
    withParts({ [SHEET]: '<sst/>' }),
  ),
  bad('links in a loop: a sheet that is the workbook', refused('wrong-part'), () =>
    sheetAt('workbook.xml'),
  ),
  bad('links in a loop: the links are the workbook', refused('wrong-part'), () =>
    withParts({ '_rels/.rels': relationships({ rId1: ['officeDocument', '_rels/.rels'] }) }),
  ),
  bad('links in a loop: notes of a sheet are the sheet', refused('wrong-part'), () =>
    onSheet({ rId1: ['comments', 'sheet1.xml'] }),
  ),
  bad('a page where the links should be', refused('wrong-part'), () =>
    withParts({ [WORKBOOK_LINKS]: '<html/>' }),
  ),
  bad('two sheets of one name', refused('sheet-name-twice'), () =>
    withParts({
      [WORKBOOK]: listing(['Plan', 'rId1'], ['PLAN', 'rId4']),
      'xl/worksheets/sheet2.xml': sheetXml(goodRows),
      [WORKBOOK_LINKS]: relationships({
        rId1: ['worksheet', 'worksheets/sheet1.xml'],
        ...strings,
        rId4: ['worksheet', 'worksheets/sheet2.xml'],
      }),
    }),
  ),
  bad('one part as two sheets', refused('sheet-part-twice'), () =>
    withParts({ [WORKBOOK]: listing(['Plan', 'rId1'], ['Copy', 'rId1']) }),
  ),
  bad('a sheet name of 100,000 characters', refused('sheet-name-long'), () =>
    withParts({ [WORKBOOK]: listing(['n'.repeat(100_000), 'rId1']) }),
  ),
  bad('no sheet listed', refused('no-sheets'), () => withParts({ [WORKBOOK]: listing() })),
  bad('only chart sheets', refused('no-cells-sheet'), () =>
    linked({ rId1: ['chartsheet', 'chartsheets/sheet1.xml'] }),
  ),
  bad('1,001 sheets', refused('sheets'), () =>
    withParts({
      [WORKBOOK]: listing(...Array.from({ length: 1_001 }, (_, at) => [`S${at}`, 'rId1'] as const)),
    }),
  ),
  bad('20,001 links of a sheet', refused('links'), () =>
    onSheet(
      Object.fromEntries(
        Array.from({ length: 20_001 }, (_, at) => [`r${at}`, ['hyperlink', 'a'] as const]),
      ),
    ),
  ),
  bad('a workbook within the workbook', readAs(3, null), () =>
    withParts({ 'xl/embeddings/inner.xlsx': schedule() }),
  ),
  bad('main part from the root, not by name', readAs(3, null), () =>
    withParts({
      [WORKBOOK]: undefined,
      'xl/book.xml': partText(WORKBOOK),
      [WORKBOOK_LINKS]: undefined,
      'xl/_rels/book.xml.rels': partText(WORKBOOK_LINKS),
      '_rels/.rels': relationships({ rId1: ['officeDocument', '/xl/book.xml'] }),
    }),
  ),
];
