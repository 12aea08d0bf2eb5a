import type { Answer, Question } from '../../src-shared/contract/requests.ts';
import type { Project } from '../../src-shared/document/project.ts';
import { readProject } from '../../src-shared/format/project-json.ts';
import { safeFileName } from '../projects/safe-name.ts';
import { answered, type Refused, refused } from './reasons.ts';
import type { ServiceParts } from './service-parts.ts';

const WORKBOOK_EXTENSION = '.xlsx';

interface Written {
  readonly bytes: Uint8Array;
  readonly remarks: readonly string[];
}

type Outcome = { readonly ok: true; readonly value: Written } | Refused;

async function writeInto(
  parts: ServiceParts,
  project: Project,
  { sourceFileIds, into }: Question<'workbook.export'>,
): Promise<Outcome> {
  if (into === null) {
    return answered({ bytes: await parts.exportWorkbook(project), remarks: [] });
  }
  // That one alone: an export does not fail for a workbook it does not need.
  const fileId = sourceFileIds[into];
  const source = fileId === undefined ? null : parts.store.get(fileId);
  if (source === null) {
    return refused(
      'source-gone',
      'The source workbook is not kept with this job.',
      'source workbook',
      'Export a new workbook instead.',
    );
  }
  const marked = await parts.markUpWorkbook(source.bytes, source.name, project, { file: into });
  return marked.ok ? answered({ bytes: marked.bytes, remarks: marked.remarks }) : marked;
}

/** The marked-up schedule: a new workbook, or a source workbook with our marks in it. */
export async function exportWorkbook(
  parts: ServiceParts,
  question: Question<'workbook.export'>,
): Promise<Answer<'workbook.export'>> {
  const read = readProject(question.projectText);
  if (!read.ok) return read;
  const written = await writeInto(parts, read.project, question);
  if (!written.ok) return written;
  const { bytes, remarks } = written.value;
  const name = safeFileName(question.suggestedName, WORKBOOK_EXTENSION);
  const left = await parts.leave({
    name,
    bytes,
    extension: WORKBOOK_EXTENSION,
    selfCheck: () => null,
  });
  return left.ok ? answered({ ...left.value, remarks }) : left;
}
