import type { Answer, Question, Reason } from '../../src-shared/contract/requests.ts';
import { readProject, writeProject } from '../../src-shared/format/project-json.ts';
import { packProject } from '../projects/pack-project.ts';
import { PROJECT_EXTENSION, type SourceFile } from '../projects/project-parts.ts';
import { safeFileName } from '../projects/safe-name.ts';
import { unpackParts } from '../projects/unpack-project.ts';
import { answered, type Refused, refused } from './reasons.ts';
import type { ServiceParts } from './service-parts.ts';

export type FoundSource = { readonly ok: true; readonly source: SourceFile | null } | Refused;

/** The source workbook to go into a project. A lost one is a reason, never left out silently. */
export function findSource({ store }: ServiceParts, sourceFileId: string | null): FoundSource {
  if (sourceFileId === null) return { ok: true, source: null };
  const source = store.get(sourceFileId);
  if (source !== null) return { ok: true, source };
  return refused(
    'source-gone',
    'Not saved. The source workbook is not held any more.',
    'source workbook',
    'Open the source workbook again, then save.',
  );
}

function isSame(a: SourceFile | null, b: SourceFile | null): boolean {
  if (a === null || b === null) return a === b;
  return Buffer.compare(a.bytes, b.bytes) === 0;
}

/** Reads packed bytes back and compares them with what they should hold. */
export function whyNotWhole(
  packed: Uint8Array,
  projectText: string,
  source: SourceFile | null,
): Reason | null {
  const read = unpackParts(packed, 'project');
  if (!read.ok) {
    return { ...read.reason, what: `Not saved. Reading back failed: ${read.reason.what}` };
  }
  if (read.parts.projectText === projectText && isSame(read.parts.source, source)) return null;
  return {
    code: 'self-check',
    what: 'Not saved. What would be written does not read back as your project.',
    where: 'project',
    todo: 'Export the marked-up workbook to keep your work, and report this.',
  };
}

function notWritten(reason: Reason): Refused {
  return { ok: false, reason: { ...reason, what: `Not saved. ${reason.what}` } };
}

/** Saves in place when the target is the project named at start, else as a new file to leave. */
export async function saveProject(
  parts: ServiceParts,
  question: Question<'project.save'>,
): Promise<Answer<'project.save'>> {
  const read = readProject(question.projectText);
  if (!read.ok) return notWritten(read.reason);
  const found = findSource(parts, question.sourceFileId);
  if (!found.ok) return found;
  const { source } = found;
  const projectText = writeProject(read.project);
  const packed = packProject({ projectText, source, appVersion: parts.version });
  const selfCheck = (bytes: Uint8Array) => whyNotWhole(bytes, projectText, source);
  if (question.target === null) {
    const unfit = selfCheck(packed);
    if (unfit !== null) return { ok: false, reason: unfit };
    const name = safeFileName(question.suggestedName, PROJECT_EXTENSION, 'project');
    return answered({ saved: 'output', output: parts.store.putOutput(name, packed) });
  }
  const { launchFile } = parts;
  if (launchFile === null || launchFile.file.fileId !== question.target) {
    return refused(
      'no-target',
      'Not saved. This host cannot write that file in place.',
      'project',
      'Save as a new file.',
    );
  }
  const saved = await launchFile.save(packed, selfCheck);
  return saved.ok ? answered({ saved: 'in-place' }) : saved;
}

/** The marked-up schedule as a new workbook, to leave the host. */
export async function exportProject(
  parts: ServiceParts,
  question: Question<'workbook.export'>,
): Promise<Answer<'workbook.export'>> {
  const read = readProject(question.projectText);
  if (!read.ok) return read;
  const bytes = await parts.exportWorkbook(read.project);
  const name = safeFileName(question.suggestedName, '.xlsx');
  return answered({ output: parts.store.putOutput(name, bytes) });
}
