/** What the window waits for, in words; null: nothing. */
import { signal } from '@preact/signals';

export const busy = signal<string | null>(null);

/** Says what is waited for as long as the work takes. */
export async function during<T>(what: string, work: () => Promise<T>): Promise<T> {
  busy.value = what;
  try {
    return await work();
  } finally {
    busy.value = null;
  }
}
