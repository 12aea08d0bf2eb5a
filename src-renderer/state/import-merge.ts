/** A second file for the same fixtures, read together with the first. */
import { loadBooks } from './import-books.ts';
import { chooseBook } from './import-files.ts';
import { currentAnswers, readOtherwise, takeReading } from './import-state.ts';
import { say } from './notice.ts';

/** The contract takes no more source files than this. */
const mostFiles = 8;

/** Lets the user choose a file and merges it in: one step of undo. */
export async function addSourceFile(): Promise<void> {
  const now = await loadBooks();
  if (now === null) {
    say('alert', 'The source file is not kept with this job, so no other can be read with it.');
    return;
  }
  if (now.length >= mostFiles) {
    say('alert', `A job has at most ${mostFiles} source files.`);
    return;
  }
  const book = await chooseBook();
  if (book === null) return;
  const { fileName } = book.workbook;
  const change = await readOtherwise(currentAnswers(), [...now, book]);
  if (change !== null) takeReading(change, `Add ${fileName}`);
}
