/** The question before unsaved work is left. */
import { signal } from '@preact/signals';

export type UnsavedChoice = 'save' | 'drop' | 'cancel';

/** Present while the question stands. */
export const unsavedQuestion = signal<((choice: UnsavedChoice) => void) | null>(null);

export function askUnsaved(): Promise<UnsavedChoice> {
  return new Promise((resolve) => {
    unsavedQuestion.value = (choice) => {
      unsavedQuestion.value = null;
      resolve(choice);
    };
  });
}
