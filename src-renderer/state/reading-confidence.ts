/** Confidence of a reading as letter and word: never colour alone. */
import type { Confidence } from '../../src-shared/document/project.ts';

export const confidenceLetter: Readonly<Record<Confidence, string>> = {
  refused: 'R',
  guess: 'G',
  likely: 'L',
  sure: '=',
};

export const confidenceWord: Readonly<Record<Confidence, string>> = {
  refused: 'refused',
  guess: 'guess',
  likely: 'likely',
  sure: 'sure',
};
