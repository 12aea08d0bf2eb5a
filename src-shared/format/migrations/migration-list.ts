import type { Migration } from './migration.ts';

/** Every step, in order. Version 1 is the first there was, so there is none yet. */
export const migrations: readonly Migration[] = [];
