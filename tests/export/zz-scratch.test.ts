import { readFileSync, writeFileSync, readdirSync } from 'node:fs';
import { it } from 'vitest';
import { writeMarkedUpWorkbook } from '../../src-main/workbook/write-workbook.ts';
import { readSourceFile } from '../../src-main/workbook/read-file.ts';
import { readSchedule } from '../../src-shared/exchange/read-schedule.ts';
import { scheduleTable } from '../../src-shared/exchange/export/schedule-table.ts';
import { isMarked } from '../../src-shared/exchange/export/export-table.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';
it('look', async () => {
  for (const path of ['src-main/demo/foxglove-roundhouse.xlsx','tests/files/second-job/thistlemere-aqueduct.xlsx','tests/files/second-job/thistlemere-aqueduct.csv', ...readdirSync('tests/files/workbook').filter(f=>/\.(xlsx|csv)$/.test(f)).map(f=>'tests/files/workbook/'+f), ...readdirSync('/work/shared/workbooks').map(f=>'/work/shared/workbooks/'+f)]) {
    const file = readSourceFile(readFileSync(path), path);
    if (!file.ok || file.kind !== 'workbook') { console.log(path, 'no'); continue; }
    const s = readSchedule(file.workbook, {});
    if (!s.ok) { console.log(path, s.refusal.code); continue; }
    const p = s.project;
    const t = scheduleTable(p, new EngineSession(p));
    const changed: string[] = [];
    t.rows.forEach((r, i) => r.forEach((c, j) => { if (isMarked(c) && c.changed) changed.push(`${i} ${t.columns[j]?.header}: ${c.value} <- ${c.note}`); }));
    console.log(path, t.rows.length, t.columns.length, 'changed', changed.length, changed.slice(0, 12), t.columns.map(c=>c.header).join('|'));
    const bytes = await writeMarkedUpWorkbook(p, { date: '2031-05-04' });
    writeFileSync('/tmp/exp/' + path.split('/').pop()!.replace(/\W/g, '-') + '.xlsx', bytes);
  }
});
