/** Other people's workbooks, read and marked up: what the tests of this folder look at. */
import { readFileSync } from 'node:fs';
import { markUpWorkbook } from '../../src-main/workbook/patch/mark-up-workbook.ts';
import { readSourceFile } from '../../src-main/workbook/read-file.ts';
import type { Project } from '../../src-shared/document/project.ts';
import type { SourceWorkbook } from '../../src-shared/document/source-workbook.ts';
import { readSchedule } from '../../src-shared/exchange/read-schedule.ts';

const arrivals = [
  'meridew-tower-crown',
  'osier-footbridge',
  'selkie-forecourt-rev-c',
  'tarnmoor-install',
  'tarnmoor-patch',
  'wrenhallow-gatehouse',
];
const rich = ['brackwell-quay', 'harrowgill-viaduct', 'lowmoor-terminal'];
/** Rich workbooks of XlsxWriter, LibreOffice and openpyxl, kept as they came (tests/files/workbook/make.py). */
const writers = ['xw', 'lo', 'op1904'];

/** Paths by name: written by openpyxl, XlsxWriter, LibreOffice and by hand, never by the program. */
export const workbooks: ReadonlyMap<string, string> = new Map([
  ...arrivals.map((name): [string, string] => [name, `arrivals/${name}`]),
  ...rich.map((name): [string, string] => [name, `rich/${name}`]),
  ...writers.map((name): [string, string] => [name, `workbook/${name}`]),
]);

export function bytesOf(name: string): Uint8Array {
  const path = `../files/${workbooks.get(name) ?? name}.xlsx`;
  return new Uint8Array(readFileSync(new URL(path, import.meta.url)));
}

/** The workbook as the program reads it; throws where it refuses. */
export function readBytes(bytes: Uint8Array, fileName: string): SourceWorkbook {
  const outcome = readSourceFile(bytes, fileName);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.refusal));
  if (outcome.kind !== 'workbook') throw new Error('no workbook');
  return outcome.workbook;
}

/** The schedule in a workbook's bytes. */
export function projectOf(bytes: Uint8Array, fileName: string): Project {
  const schedule = readSchedule(readBytes(bytes, fileName), {});
  if (!schedule.ok) throw new Error(JSON.stringify(schedule.refusal));
  return schedule.project;
}

/** The marked-up workbook; throws where it is refused. */
export async function markedUp(
  bytes: Uint8Array,
  fileName: string,
  project: Project,
): Promise<{ bytes: Uint8Array; remarks: readonly string[] }> {
  const marked = await markUpWorkbook(bytes, fileName, project, { file: 0, date: '2031-05-04' });
  if (!marked.ok) throw new Error(JSON.stringify(marked.reason));
  return marked;
}
