import { strToU8 } from 'fflate';
import { sheetXml, workbookXml } from '../package-builder.ts';
import { bad, readAs, refused } from './bad-input.ts';
import { fixtureRow, goodRows, SHEET, schedule, WORKBOOK, withParts } from './good-package.ts';

/** Sound files in which no schedule stands. */

const text = (words: string) => `<c t="inlineStr"><is><t>${words}</t></is></c>`;
const csv = { fileName: 'schedule.csv' };

export const noSchedule = [
  bad(
    'a workbook without a tag header',
    refused('no-schedule'),
    () =>
      withParts({
        [SHEET]: sheetXml(`<row>${text('Item')}${text('Price')}</row><row>${text('Desk')}</row>`),
      }),
    { kind: 'no header' },
  ),
  bad(
    'a header without rows',
    refused('no-schedule'),
    () => schedule({ rows: goodRows.replace(/<row r="[2-9]">.*$/, '') }),
    {
      kind: 'no rows',
    },
  ),
  bad('an empty sheet', refused('no-cells'), () => schedule({ rows: '' })),
  bad('a csv file of separators', refused('no-cells'), () => strToU8(',,,\n, ,,\n'), csv),
  bad(
    'a header in row 300 of a long text',
    refused('no-schedule'),
    () => {
      const prose = Array.from(
        { length: 299 },
        (_, at) => `<row r="${at + 1}">${text('words')}</row>`,
      );
      return schedule({
        rows:
          prose.join('') +
          goodRows.replace('r="1"', 'r="300"').replace(/<row r="[2-9]">.*$/, '') +
          fixtureRow(301, 'D-1'),
      });
    },
    { kind: 'no header' },
  ),
  bad('all sheets hidden', readAs(3, null), () =>
    withParts({ [WORKBOOK]: workbookXml().replace('name="Plan"', 'name="Plan" state="hidden"') }),
  ),
  bad(
    'a csv file of prose',
    refused('no-schedule'),
    () => strToU8('Dear all,\nthe schedule follows.\n'),
    {
      ...csv,
      kind: 'no header',
    },
  ),
  bad(
    'a csv file of a header alone',
    refused('no-schedule'),
    () => strToU8('Tag,Type,Run,Load W\n'),
    {
      ...csv,
      kind: 'no rows',
    },
  ),
];
