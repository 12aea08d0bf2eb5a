/** The marked-up schedule as the engineer's own workbook with our marks in it. */
import type { Reason } from '../../../src-shared/contract/requests.ts';
import type { Project } from '../../../src-shared/document/project.ts';
import { RefusalError } from '../refusal.ts';
import type { MarkUpOptions } from './mark-up-options.ts';
import { markUpPackage } from './mark-up-package.ts';

export type { MarkUpOptions };

export type MarkUpResult =
  | { readonly ok: true; readonly bytes: Uint8Array; readonly remarks: readonly string[] }
  | { readonly ok: false; readonly reason: Reason };

/**
 * Puts the project's marks into one of its source workbooks: our columns right of the engineer's, new
 * rows below, our sheets behind; every part that is not touched stays byte for byte. What an earlier
 * export left there is replaced. Never throws; where it cannot be done right it says why, and a new
 * workbook can be written instead. Same workbook, project and options: same bytes.
 */
export async function markUpWorkbook(
  sourceBytes: Uint8Array,
  fileName: string,
  project: Project,
  options: MarkUpOptions,
): Promise<MarkUpResult> {
  try {
    const { bytes, remarks } = markUpPackage(sourceBytes, fileName, project, options);
    return { ok: true, bytes, remarks };
  } catch (error) {
    if (error instanceof RefusalError) return { ok: false, reason: error.refusal };
    const reason = {
      code: 'cannot-mark-up',
      what: 'The marks could not be put into this workbook; the file itself was not changed.',
      where: fileName,
      todo: 'Export a new workbook instead.',
    };
    return { ok: false, reason };
  }
}
