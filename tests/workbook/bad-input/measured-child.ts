/**
 * A process of its own that reads files as the program does, and tells time and memory. The host's
 * side is here: the worker, then the schedule, or the project's parts.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { unpackProject } from '../../../src-main/projects/unpack-project.ts';
import { readSourceFileInWorker } from '../../../src-main/workbook/read-in-worker.ts';
import { readSchedule } from '../../../src-shared/exchange/read-schedule.ts';
import type { Measured, Outcome, Request } from './measure.ts';

/** Peak memory of the whole process, MB; since `reset` where the system can, else since its start. */
function peakMb(): number {
  if (process.platform !== 'linux') return process.resourceUsage().maxRSS / 1024;
  const peak = /VmHWM:\s+(\d+)/.exec(readFileSync('/proc/self/status', 'utf8'))?.[1];
  return Number(peak) / 1024;
}

function reset(): void {
  globalThis.gc?.();
  try {
    // Sets the peak back to what is in use now.
    if (process.platform === 'linux') writeFileSync('/proc/self/clear_refs', '5');
  } catch {
    // Then the peak is that of all files so far: never too small.
  }
}

async function outcomeOf(bytes: Uint8Array, fileName: string): Promise<Outcome> {
  const read = await readSourceFileInWorker(bytes, fileName);
  if (!read.ok) return read;
  if (read.kind === 'project') {
    const unpacked = unpackProject(bytes, fileName);
    if (!unpacked.ok) return { ok: false, refusal: unpacked.reason };
    return { ok: true, fixtures: unpacked.project.fixtures.length, remarks: [] };
  }
  const schedule = readSchedule(read.workbook, {});
  if (!schedule.ok) return { ok: false, refusal: schedule.refusal };
  const { fixtures } = schedule.project;
  return { ok: true, fixtures: fixtures.length, remarks: read.workbook.remarks };
}

process.on('message', async ({ path, fileName }: Request) => {
  const bytes = readFileSync(path);
  reset();
  const start = performance.now();
  const usedBefore = process.cpuUsage();
  const figures = () => {
    const { user, system } = process.cpuUsage(usedBefore);
    return { ms: performance.now() - start, cpuMs: (user + system) / 1_000, mb: peakMb() };
  };
  let answer: Measured;
  try {
    const outcome = await outcomeOf(bytes, fileName);
    answer = { outcome, ...figures() };
  } catch (error) {
    answer = { threw: String(error), ...figures() };
  }
  process.send?.(answer);
});
process.send?.('ready');
