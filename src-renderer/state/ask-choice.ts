/** A question with two or three ways to go on, asked in a dialog of the window. */
import { signal } from '@preact/signals';

export interface Choice<T extends string> {
  readonly id: T;
  readonly title: string;
}

export interface ChoiceQuestion {
  readonly title: string;
  readonly sentences: readonly string[];
  /** The last one is the chief act. */
  readonly choices: readonly Choice<string>[];
  /** Null: closed without a choice. */
  readonly answer: (id: string | null) => void;
}

/** Present while a question stands. */
export const choiceQuestion = signal<ChoiceQuestion | null>(null);

/** Asks; null: the user closed the dialog, or another question stands already. */
export function askChoice<T extends string>(
  title: string,
  sentences: readonly string[],
  choices: readonly Choice<T>[],
): Promise<T | null> {
  if (choiceQuestion.value !== null) return Promise.resolve(null);
  return new Promise((resolve) => {
    const answer = (id: string | null) => {
      choiceQuestion.value = null;
      resolve(choices.find((choice) => choice.id === id)?.id ?? null);
    };
    choiceQuestion.value = { title, sentences, choices, answer };
  });
}
