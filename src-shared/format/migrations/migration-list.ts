import { migration0001 } from './0001-to-0002.migration.ts';
import type { Migration } from './migration.ts';

/** Every step, in order. */
export const migrations: readonly Migration[] = [migration0001];
