/** `--out`: the marked-up schedule. */
import type { Project } from '../../src-shared/document/project.ts';
import { markUpWorkbook } from '../workbook/patch/mark-up-workbook.ts';
import { writeMarkedUpWorkbook } from '../workbook/write-workbook.ts';
import type { WrittenWorkbook } from './check.ts';
import type { SourceBytes } from './read-input.ts';

/**
 * The workbook the job came from with our marks in it. Where there is none, or the marks cannot be
 * put into it, a new workbook; the reason is then a remark.
 */
export async function writeOut(
  project: Project,
  workbook: SourceBytes | null,
): Promise<WrittenWorkbook> {
  if (workbook === null) return { bytes: await writeMarkedUpWorkbook(project), remarks: [] };
  const marked = await markUpWorkbook(workbook.bytes, workbook.name, project, { file: 0 });
  if (marked.ok) return marked;
  const remark = `${marked.reason.what} A new workbook was written instead.`;
  return { bytes: await writeMarkedUpWorkbook(project), remarks: [remark] };
}
