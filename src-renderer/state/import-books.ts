/** The source files of the open job: as the host holds them, and their cells. */
import { computed, signal } from '@preact/signals';
import type { HeldFile } from '../../src-shared/contract/requests.ts';
import type { SourceFile } from '../../src-shared/document/project.ts';
import type { SourceWorkbook } from '../../src-shared/document/source-workbook.ts';
import { connection } from '../host/connection.ts';
import { jobFile, onChange, project } from './document-store.ts';
import { sayReason } from './notice.ts';

export interface SourceBook {
  readonly held: HeldFile;
  readonly workbook: SourceWorkbook;
}

/**
 * By the list of files they were read for. Undo brings back that very list, so a file that was
 * merged in or replaced goes and comes with the step that did it.
 */
const booksOf = new WeakMap<readonly SourceFile[], readonly SourceBook[]>();

/** Counts what was kept, so that who looks at the books sees those that came later. */
const kept = signal(0);

/** The source files at hand; null: not read from the host so far, or not kept with the job. */
export const books = computed<readonly SourceBook[] | null>(() => {
  kept.value;
  const files = project.value?.source?.files;
  return files === undefined ? null : (booksOf.get(files) ?? null);
});

/** Says which files a reading was made from. */
export function keepBooks(files: readonly SourceFile[], given: readonly SourceBook[]): void {
  booksOf.set(files, given);
  kept.value += 1;
}

/** What a save takes along follows the reading that holds. */
onChange(() => {
  const known = books.value;
  if (known === null) return;
  const sources = known.map(({ held }) => held);
  const now = jobFile.value.sources;
  const same = now.length === sources.length && now.every((file, at) => file === sources[at]);
  if (!same) jobFile.value = { ...jobFile.value, sources };
});

async function bookOf(held: HeldFile): Promise<SourceBook | null> {
  const answer = await connection().host.ask('file.open', { fileId: held.fileId });
  if (!answer.ok) {
    sayReason(answer.reason);
    return null;
  }
  return answer.value.kind === 'schedule' ? { held, workbook: answer.value.workbook } : null;
}

/** Reads the source files from the host where that was not done yet; null: they cannot be had. */
export async function loadBooks(): Promise<readonly SourceBook[] | null> {
  if (books.value !== null) return books.value;
  const files = project.value?.source?.files;
  const { sources } = jobFile.value;
  if (files === undefined || sources.length < files.length) return null;
  const read = await Promise.all(sources.slice(0, files.length).map(bookOf));
  const all = read.filter((book) => book !== null);
  if (all.length < files.length) return null;
  keepBooks(files, all);
  return all;
}
