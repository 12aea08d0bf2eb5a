import type { Answer, Question } from '../../src-shared/contract/requests.ts';
import { sourcesAsFarAsHeld } from './job-sources.ts';
import { answered } from './reasons.ts';
import type { ServiceParts } from './service-parts.ts';

/**
 * Keeps a recovery copy. The project text is kept as it is, unchecked: when something is wrong with
 * it, a copy that needs repair is better than none. A lost source workbook is left out for the same
 * reason.
 */
export async function keepRecovery(
  parts: ServiceParts,
  question: Question<'recovery.keep'>,
): Promise<Answer<'recovery.keep'>> {
  const { recoveryId, projectText, name } = question;
  const sources = sourcesAsFarAsHeld(parts, question.sourceFileIds);
  const kept = await parts.recovery.keep(recoveryId, { name, projectText, sources });
  return kept.ok ? answered({ recoveryId: kept.recoveryId }) : kept;
}
