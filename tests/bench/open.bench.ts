import { expect, it } from 'vitest';
import { readSourceFile } from '../../src-main/workbook/read-file.ts';
import { readSchedule } from '../../src-shared/exchange/read-schedule.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';
import { makeWorkbook } from './make-workbook.ts';
import { median, print } from './print.ts';

it('opens a workbook of 10,000 rows', () => {
  const bytes = makeWorkbook(10_000);
  const laps: number[][] = [];
  for (let round = 0; round < 5; round += 1) {
    const start = performance.now();
    const read = readSourceFile(bytes, 'bench.xlsx');
    if (!read.ok || read.kind !== 'workbook') throw new Error('not read');
    const cells = performance.now();
    const schedule = readSchedule(read.workbook, { profile: 'iec' });
    if (!schedule.ok) throw new Error(schedule.refusal.what);
    const document = performance.now();
    const session = new EngineSession(schedule.project);
    expect([...session.runs.values()].every((run) => run.solved)).toBe(true);
    expect(session.findings.length).toBeGreaterThan(0);
    const solved = performance.now();
    expect(schedule.project.fixtures).toHaveLength(10_000);
    expect(session.runs.size).toBe(500);
    laps.push([cells - start, document - cells, solved - document, solved - start]);
  }
  const lap = (i: number) => median(laps.map((l) => l[i] ?? Number.NaN)).toFixed(0);
  print(
    'open a workbook of 10,000 rows × 19 columns',
    `${lap(3)} ms (cells ${lap(0)}, document ${lap(1)}, solved and checked ${lap(2)})`,
  );
});
