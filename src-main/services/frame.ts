/** What the frame around the window can do: the desktop shell has one, the browser is its own. */
import type { Answer, Question } from '../../src-shared/contract/requests.ts';
import { type Refused, refused } from './reasons.ts';

export interface Frame {
  /** Path of the file the user chose; null: the dialog was closed. */
  readonly chooseFile: (
    question: Question<'file.choose'>,
  ) => Promise<{ readonly ok: true; readonly value: string | null } | Refused>;
  readonly told: (question: Question<'app.told'>) => void;
  readonly leave: (answer: Question<'app.leave'>['answer']) => void;
  readonly print: () => Promise<Answer<'app.print'>>;
}

/** The loopback host: a browser chooses files, prints and closes by itself. */
export const browserFrame: Frame = {
  chooseFile: async () =>
    refused('no-dialog', 'The browser chooses files itself.', 'window', 'Use Open in the window.'),
  told: () => undefined,
  leave: () => undefined,
  print: async () =>
    refused(
      'no-print',
      'The browser prints by itself.',
      'window',
      "Use the browser's print command.",
    ),
};
