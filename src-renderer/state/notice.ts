/** One line that says what happened: announced, shown near the grid, gone with the next act. */
import { signal } from '@preact/signals';
import type { Reason } from '../../src-shared/contract/requests.ts';

export interface Notice {
  readonly tone: 'status' | 'alert';
  readonly text: string;
  /** Makes two equal texts two notices. */
  readonly count: number;
}

export const notice = signal<Notice | null>(null);
/** How long a line stays: long enough to read, an alert longer. */
const stayMs = { status: 6_000, alert: 15_000 } as const;
let count = 0;
let timer: ReturnType<typeof setTimeout> | undefined;

export function say(tone: Notice['tone'], text: string): void {
  count += 1;
  notice.value = { tone, text, count };
  clearTimeout(timer);
  timer = setTimeout(hush, stayMs[tone]);
}

export function hush(): void {
  notice.value = null;
}

/** A host's reason as one sentence: what, where, what to do. */
export function sayReason(reason: Reason): void {
  const where = reason.where === '' ? '' : ` (${reason.where})`;
  say('alert', `${reason.what}${where} ${reason.todo}`.trim());
}
