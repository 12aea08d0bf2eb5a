import type { Answer } from '../../src-shared/contract/requests.ts';
import { answered, refused } from '../services/reasons.ts';

/**
 * What became of printing. A dialog that was closed is no fault.
 * @param why the engine's own words where it did not succeed
 */
export function printOutcome(success: boolean, why: string): Answer<'app.print'> {
  if (success || /cancel/i.test(why)) return answered({});
  const what = `Not printed: ${why || 'the system did not say why'}.`;
  return refused('not-printed', what, 'printer', 'Check that a printer is set up.');
}
