/** The question before unsaved work is left. */
import { signal } from '@preact/signals';

export type UnsavedChoice = 'save' | 'drop' | 'cancel';

/** Present while the question stands. */
export const unsavedQuestion = signal<((choice: UnsavedChoice) => void) | null>(null);

/** Asks. While the question stands for one act, another one that would ask it is called off. */
export function askUnsaved(): Promise<UnsavedChoice> {
  if (unsavedQuestion.value !== null) return Promise.resolve('cancel');
  return new Promise((resolve) => {
    unsavedQuestion.value = (choice) => {
      unsavedQuestion.value = null;
      resolve(choice);
    };
  });
}
