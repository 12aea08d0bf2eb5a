import { readFileSync, writeFileSync } from 'node:fs';
import { it } from 'vitest';
import { markUpWorkbook } from '../../src-main/workbook/patch/mark-up-workbook.ts';
import { readSourceFile } from '../../src-main/workbook/read-file.ts';
import { readSchedule } from '../../src-shared/exchange/read-schedule.ts';
import { tenEdits } from '../travel/ten-edits.ts';

it.each((process.env.N ?? '').split(','))('%s', async (path) => {
  const n = path.split('/').pop()!;
  const books = (readSourceFile(readFileSync(path), n) as any).workbook;
  const read = readSchedule(books, {}) as any;
  console.log(JSON.stringify(read.project.source.sheets));
  const { project } = tenEdits(read.project);
  const out = (await markUpWorkbook(readFileSync(path), n, project, { file: 0 })) as any;
  console.log(out.remarks ?? out);
  writeFileSync('/tmp/mk/out/t-' + n, out.bytes);
  const back = readSchedule((readSourceFile(out.bytes, n) as any).workbook, {}) as any;
  console.log(
    JSON.stringify(back.project.source.sheets),
    back.project.source.columns.map((c: any) => c.header + '=' + c.columnId).join('|'),
  );
  const f = (p: any) =>
    p.fixtures.filter((x: any) => x.tag === 'L43-11').map((x: any) => JSON.stringify(x));
  console.log(f(project)[0], f(back.project)[0]);
  const twice = (await markUpWorkbook(out.bytes, n, back.project, { file: 0 })) as any;
  writeFileSync('/tmp/mk/out/u-' + n, twice.bytes);
});
