/** What the host keeps for the window between starts: choices, header maps. Small texts by key. */
import { signal } from '@preact/signals';
import { connection } from '../host/connection.ts';
import { sayReason } from './notice.ts';

/** Everything kept, by key; empty until `app.start` was answered. */
export const memory = signal<Readonly<Record<string, string>>>({});

/** Keys written before the host had answered: what was kept earlier must not undo them. */
const written = new Set<string>();
let complained = false;

/** Takes what the host has kept; called once, at start. */
export function fillMemory(kept: Readonly<Record<string, string>>): void {
  const earlier = Object.entries(kept).filter(([key]) => !written.has(key));
  memory.value = { ...memory.value, ...Object.fromEntries(earlier) };
}

/** The text kept under a key; subscribes the caller to it. */
export function remembered(key: string): string | undefined {
  return Object.hasOwn(memory.value, key) ? memory.value[key] : undefined;
}

async function keep(key: string, text: string | null): Promise<void> {
  const answer = await connection().host.ask('memory.keep', { key, text });
  if (answer.ok || complained) return;
  complained = true;
  sayReason(answer.reason);
}

/**
 * Keeps a text between starts; null: forgets it. A host that cannot keep it is said once; in this
 * window the choice holds all the same.
 * @param key `[a-z0-9.-]`, at most 120 characters
 * @param text at most 100,000 characters
 */
export function remember(key: string, text: string | null): void {
  if ((remembered(key) ?? null) === text) return;
  written.add(key);
  const { [key]: _before, ...others } = memory.value;
  memory.value = text === null ? others : { ...others, [key]: text };
  void keep(key, text);
}
