import type { WebContents } from 'electron';
import type { Answer } from '../../src-shared/contract/requests.ts';
import { answered, refused } from '../services/reasons.ts';

/** Prints by the system's dialog. A dialog that was closed is no fault. */
export function printPage(contents: WebContents): Promise<Answer<'app.print'>> {
  return new Promise((resolve) => {
    contents.print({ silent: false, printBackground: true }, (success, why) => {
      if (success || /cancel/i.test(why)) return resolve(answered({}));
      const what = `Not printed: ${why || 'the system did not say why'}.`;
      resolve(refused('not-printed', what, 'printer', 'Check that a printer is set up.'));
    });
  });
}
