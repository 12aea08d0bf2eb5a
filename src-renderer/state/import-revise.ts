/** A revised copy of a source file: what is different is shown before anything changes. */
import { signal } from '@preact/signals';
import type { Difference } from '../../src-shared/exchange/revise/difference.ts';
import { movedAnswers } from '../../src-shared/exchange/revise/moved-answers.ts';
import { reviseProject } from '../../src-shared/exchange/revise/revise-project.ts';
import { project } from './document-store.ts';
import { loadBooks, type SourceBook } from './import-books.ts';
import { chooseBook } from './import-files.ts';
import { currentAnswers, type ReadChange, readOtherwise, takeReading } from './import-state.ts';
import { say } from './notice.ts';

export interface Revision {
  readonly fileName: string;
  /** Place in `source.files` of the file it takes the place of. */
  readonly file: number;
  readonly differences: readonly Difference[];
  readonly change: ReadChange;
}

/** The revised copy that is looked at; null: none. */
export const revision = signal<Revision | null>(null);
/** A revised copy while the file it belongs to is asked for; null: nothing is asked. */
export const revisionOf = signal<SourceBook | null>(null);

/** Lets the user choose a revised copy. Of several source files the one it revises is asked. */
export async function chooseRevision(): Promise<void> {
  const now = await loadBooks();
  if (now === null) {
    say('alert', 'The source file is not kept with this job, so nothing can be compared with it.');
    return;
  }
  const book = await chooseBook();
  if (book === null) return;
  const same = now.findIndex(({ workbook }) => workbook.fileName === book.workbook.fileName);
  if (now.length === 1) await compareRevision(book, 0);
  else if (same >= 0) await compareRevision(book, same);
  else revisionOf.value = book;
}

/** Reads the copy in place of a source file and lists what is different. */
export async function compareRevision(book: SourceBook, file: number): Promise<void> {
  revisionOf.value = null;
  const now = await loadBooks();
  const current = project.value;
  if (now === null || current === null) return;
  const others = now.map((had, at) => (at === file ? book : had));
  const answers = movedAnswers(
    current,
    others.map(({ workbook }) => workbook),
  );
  const change = await readOtherwise(answers ?? currentAnswers(), others);
  if (change === null) return;
  const { differences } = reviseProject(current, change.base, change.read);
  revision.value = { fileName: book.workbook.fileName, file, differences, change };
}

/** Takes the revised copy over: one step of undo; its bytes are the job's source from now on. */
export function takeRevision(): void {
  const now = revision.value;
  revision.value = null;
  if (now !== null) takeReading(now.change, `Revised copy ${now.fileName}`);
}

/** Everything stays as it was. */
export function leaveRevision(): void {
  revision.value = null;
  revisionOf.value = null;
  say('status', 'Left: nothing was changed.');
}
