import type { WebContents } from 'electron';
import type { Answer } from '../../src-shared/contract/requests.ts';
import { printOutcome } from '../shell/print-outcome.ts';

/** Prints by the system's dialog. */
export function printPage(contents: WebContents): Promise<Answer<'app.print'>> {
  return new Promise((resolve) => {
    contents.print({ silent: false, printBackground: true }, (success, why) => {
      resolve(printOutcome(success, why));
    });
  });
}
