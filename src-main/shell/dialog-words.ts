/** Words and filters of the native dialogs, as data. */
import type { NativeCause } from './leave-flow.ts';

export interface FileFilter {
  readonly name: string;
  readonly extensions: readonly string[];
}

const SCHEDULES = ['xlsx', 'csv', 'tsv', 'txt'];
const ALL: FileFilter = { name: 'All files', extensions: ['*'] };

export function openFilters(what: 'any' | 'schedule'): readonly FileFilter[] {
  if (what === 'schedule') return [{ name: 'Schedules', extensions: SCHEDULES }, ALL];
  return [{ name: 'Schedules and projects', extensions: [...SCHEDULES, 'runledger'] }, ALL];
}

/** @param extension with its dot */
export function saveFilters(extension: string): readonly FileFilter[] {
  const name = extension === '.xlsx' ? 'Workbook' : 'Runledger project';
  return [{ name, extensions: [extension.slice(1)] }];
}

export interface NativeQuestion {
  readonly message: string;
  readonly detail: string;
  /** The last one is the way that loses nothing; it is also what Esc means. */
  readonly buttons: readonly [act: string, stay: string];
}

const KEPT =
  'Unsaved work up to the latest pause is kept as a recovery copy and offered at the next start.';

const LOADED_AGAIN = `${KEPT} Loading it again offers that copy at once.`;

export const closeQuestion: Readonly<Record<NativeCause, NativeQuestion>> = {
  silent: {
    message: 'The window does not answer. Close it all the same?',
    detail: KEPT,
    buttons: ['Close', 'Wait'],
  },
  gone: {
    message: 'The page in the window has ended. Close the window?',
    detail: LOADED_AGAIN,
    buttons: ['Close', 'Load it again'],
  },
};

/** The page has ended of itself: load it again, or leave it. */
export const pageGoneQuestion: NativeQuestion = {
  message: 'The page in the window has ended unexpectedly.',
  detail: LOADED_AGAIN,
  buttons: ['Leave it', 'Load it again'],
};
