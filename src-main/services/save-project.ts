import type { Answer, Question, Reason } from '../../src-shared/contract/requests.ts';
import { readProject, writeProject } from '../../src-shared/format/project-json.ts';
import { packProject } from '../projects/pack-project.ts';
import { PROJECT_EXTENSION, type SourceFile } from '../projects/project-parts.ts';
import { safeFileName } from '../projects/safe-name.ts';
import { unpackParts } from '../projects/unpack-project.ts';
import { PROJECT_BYTES } from './admit-file.ts';
import { findSources } from './job-sources.ts';
import { answered, type Refused, refused } from './reasons.ts';
import type { ServiceParts } from './service-parts.ts';

function areSame(a: readonly SourceFile[], b: readonly SourceFile[]): boolean {
  if (a.length !== b.length) return false;
  return a.every(({ bytes }, place) => {
    const other = b[place];
    return other !== undefined && Buffer.compare(bytes, other.bytes) === 0;
  });
}

/** Reads packed bytes back and compares them with what they should hold. */
export function whyNotWhole(
  packed: Uint8Array,
  projectText: string,
  sources: readonly SourceFile[],
): Reason | null {
  const read = unpackParts(packed, 'project');
  if (!read.ok) {
    return { ...read.reason, what: `Not saved. Reading back failed: ${read.reason.what}` };
  }
  const { parts } = read;
  if (parts.projectText === projectText && areSame(parts.sources, sources)) return null;
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

/** Saves in place when the target is a project the host knows by path, else as a new file. */
export async function saveProject(
  parts: ServiceParts,
  question: Question<'project.save'>,
): Promise<Answer<'project.save'>> {
  const read = readProject(question.projectText);
  if (!read.ok) return notWritten(read.reason);
  const found = findSources(parts, question.sourceFileIds);
  if (!found.ok) return found;
  const sources = found.value;
  const projectText = writeProject(read.project);
  const bytes = packProject({ projectText, sources, appVersion: parts.version });
  if (bytes.length > PROJECT_BYTES) {
    return refused(
      'too-large',
      `Not saved. With its source workbooks the job comes to ${Math.ceil(bytes.length / 1e6)} MB; a project over ${PROJECT_BYTES / 1e6} MB could not be opened again.`,
      'source workbooks',
      'Export the marked-up workbook to keep your work; then take large pictures out of the source workbooks and open those.',
    );
  }
  const selfCheck = (packed: Uint8Array) => whyNotWhole(packed, projectText, sources);
  if (question.target === null) {
    const name = safeFileName(question.suggestedName, PROJECT_EXTENSION, 'project');
    return parts.leave({ name, bytes, extension: PROJECT_EXTENSION, selfCheck });
  }
  const target = parts.disk.get(question.target);
  if (target === null) {
    return refused(
      'no-target',
      'Not saved. This host cannot write that file in place.',
      'project',
      'Save as a new file.',
    );
  }
  const saved = await target.save({ bytes, selfCheck, overwrite: question.overwrite });
  return saved.ok ? answered({ saved: 'in-place' }) : saved;
}
