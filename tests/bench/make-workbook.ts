/** A plain .xlsx of a schedule, written as bare XML so that no library of ours is in what is timed. */
import { strToU8, zipSync } from 'fflate';
import { columnLetters } from '../../src-shared/document/source-workbook.ts';
import { job, perRun } from './make-job.ts';

const header = [
  'Tag',
  'Type',
  'Area',
  'Run',
  'Place',
  'Fed from',
  'Panel',
  'Circuit',
  'Supply V',
  'Span m',
  'Home run m',
  'Universe',
  'Start',
  'Mode',
  'Load W',
  'PF',
  'Breaker A',
  'Conductor',
  'Remarks',
];

function rowOf(i: number): (string | number)[] {
  const run = Math.floor(i / perRun);
  const place = (i % perRun) + 1;
  return [
    `T-${i + 1}`,
    'K1',
    `Area ${run % 9}`,
    `R${run + 1}`,
    place,
    place === 1 ? 'BOX' : `T-${i}`,
    'P',
    String(Math.floor(run / 3) + 1),
    job.supplyV,
    job.spanM,
    place === 1 ? job.homeRunM : '',
    Math.floor(run / 5) + 1,
    (run % 5) * 100 + (place - 1) * 5 + 1,
    '5ch',
    job.watts,
    job.powerFactor,
    16,
    place === 1 ? '2.5 mm²' : '',
    i % 50 === 0 ? 'see drawing' : '',
  ];
}

function cellXml(value: string | number, row: number, column: number): string {
  if (value === '') return '';
  const at = `${columnLetters(column)}${row}`;
  return typeof value === 'number'
    ? `<c r="${at}"><v>${value}</v></c>`
    : `<c r="${at}" t="inlineStr"><is><t>${value}</t></is></c>`;
}

export function makeWorkbook(count: number): Uint8Array {
  const rows: (string | number)[][] = [
    header,
    ...Array.from({ length: count }, (_, i) => rowOf(i)),
  ];
  const body = rows
    .map(
      (cells, r) =>
        `<row r="${r + 1}">${cells.map((value, c) => cellXml(value, r + 1, c)).join('')}</row>`,
    )
    .join('');
  const main = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
  const office = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
  const packageRelations = 'http://schemas.openxmlformats.org/package/2006/relationships';
  const type = 'application/vnd.openxmlformats-officedocument.spreadsheetml';
  return zipSync({
    '[Content_Types].xml': strToU8(
      `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="${type}.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="${type}.worksheet+xml"/></Types>`,
    ),
    '_rels/.rels': strToU8(
      `<Relationships xmlns="${packageRelations}"><Relationship Id="rId1" Type="${office}/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
    ),
    'xl/workbook.xml': strToU8(
      `<workbook xmlns="${main}" xmlns:r="${office}"><sheets><sheet name="Schedule" sheetId="1" r:id="rId1"/></sheets></workbook>`,
    ),
    'xl/_rels/workbook.xml.rels': strToU8(
      `<Relationships xmlns="${packageRelations}"><Relationship Id="rId1" Type="${office}/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`,
    ),
    'xl/worksheets/sheet1.xml': strToU8(
      `<worksheet xmlns="${main}"><sheetData>${body}</sheetData></worksheet>`,
    ),
  });
}
