/** The marked-up schedule: into the engineer's own workbook, or as a new one. */
import type { Question, Reason } from '../../src-shared/contract/requests.ts';
import { writeProject } from '../../src-shared/format/project-json.ts';
import { connection } from '../host/connection.ts';
import { askChoice } from './ask-choice.ts';
import { during } from './busy.ts';
import { jobFile, project } from './document-store.ts';
import { workbookFileName } from './job-text.ts';
import { say, sayReason } from './notice.ts';
import { settleEntries } from './save-actions.ts';

/** Place of the source workbook our marks go into; null: the job came from none that takes them. */
export function sourceToMark(): number | null {
  const place = jobFile.value.sources.findIndex(({ name }) => /\.xlsx$/i.test(name));
  return place < 0 ? null : place;
}

async function write(into: number | null): Promise<Reason | null> {
  const now = project.value;
  if (now === null) return null;
  const question: Question<'workbook.export'> = {
    projectText: writeProject(now),
    sourceFileIds: jobFile.value.sources.map(({ fileId }) => fileId),
    into,
    suggestedName: workbookFileName(now, into === null && sourceToMark() !== null),
  };
  const answer = await during('Writing the marked-up schedule', () =>
    connection().host.ask('workbook.export', question),
  );
  if (!answer.ok) return answer.reason;
  const { value } = answer;
  connection().host.deliver(value);
  if (value.saved === 'not') return null;
  const name = value.saved === 'output' ? value.output.name : value.file.name;
  const [first, ...others] = value.remarks;
  const more = others.length === 0 ? '' : ` And ${others.length} more, listed in the workbook.`;
  const remark = first === undefined ? '' : ` ${first}${more}`;
  say('status', `Marked-up schedule written as ${name}.${remark}`);
  return null;
}

/** Exports a new workbook of our own. */
export async function exportNew(): Promise<void> {
  await settleEntries();
  const reason = await write(null);
  if (reason !== null) sayReason(reason);
}

/**
 * Exports into the engineer's own workbook where the job came from one. When that workbook cannot
 * take our marks, why is said and a new one is offered.
 */
export async function exportWorkbook(): Promise<void> {
  await settleEntries();
  const into = sourceToMark();
  const reason = await write(into);
  if (reason === null) return;
  if (into === null) return sayReason(reason);
  const where = reason.where === '' ? '' : ` (${reason.where})`;
  const choice = await askChoice(
    'Your workbook was not marked up',
    [`${reason.what}${where}`, reason.todo],
    [{ id: 'new', title: 'Export as new workbook' }],
  );
  if (choice === 'new') await exportNew();
}
