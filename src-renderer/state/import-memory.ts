/** Header map and answers, remembered for every file of the same shape. */
import { computed, signal } from '@preact/signals';
import type { ImportAnswers } from '../../src-shared/document/project.ts';
import type { SourceWorkbook } from '../../src-shared/document/source-workbook.ts';
import { shapeOf } from '../../src-shared/exchange/shape/file-shape.ts';
import {
  readRememberedAnswers,
  rememberedAnswers,
} from '../../src-shared/exchange/shape/remembered-answers.ts';
import { onChange, project } from './document-store.ts';
import { books } from './import-books.ts';
import { currentAnswers, readAgain } from './import-state.ts';
import { remember, remembered } from './memory.ts';
import { say } from './notice.ts';

const keyOf = (workbook: SourceWorkbook): string => `import.${shapeOf(workbook)}`;

/** What the memory gave the open file when it was opened; null: nothing. */
const given = signal<{ readonly key: string; readonly text: string } | null>(null);

/** The answers kept for files of this shape; null: none. */
export function answersFor(workbook: SourceWorkbook): ImportAnswers | null {
  const text = remembered(keyOf(workbook));
  return text === undefined ? null : readRememberedAnswers(text);
}

/** Notes that a file was opened with what was kept for its shape. */
export function noteGiven(workbook: SourceWorkbook, answers: ImportAnswers | null): void {
  const text = answers === null ? null : rememberedAnswers({ answers });
  given.value = text === null ? null : { key: keyOf(workbook), text };
  last = rememberedAnswers({ answers: currentAnswers() });
}

/** The open file began with remembered answers, and they still hold. */
export const shapeKnown = computed(() => {
  const now = given.value;
  return now !== null && rememberedAnswers({ answers: currentAnswers() }) === now.text;
});

/** What was remembered or found last, so that only a change by the engineer is written. */
let last: string | null = null;

/** Every answer about the file as a whole is remembered at once; undo takes that back too. */
function follow(): void {
  const source = project.value?.source ?? null;
  const first = books.value?.[0]?.workbook;
  if (source === null || first === undefined) return;
  const text = rememberedAnswers(source);
  if (text === last) return;
  last = text;
  remember(keyOf(first), text);
}

onChange((changes) => {
  if (changes === 'opened') {
    given.value = null;
    last = rememberedAnswers({ answers: currentAnswers() });
  } else follow();
});

/** Reads the open file as if nothing had been remembered; texts typed for cells stay. */
export function readAfresh(): Promise<boolean> {
  const { cells, accepted } = currentAnswers();
  const next: ImportAnswers = {
    sheets: null,
    headerRows: [],
    columns: [],
    questions: [],
    cells,
    accepted,
  };
  return readAgain(next, 'Read afresh');
}

/** The next file of this shape is read as found; the open one stays as it is. */
export function forgetShape(): void {
  const now = given.value;
  if (now === null) return;
  remember(now.key, null);
  given.value = null;
  say('status', 'Forgotten: the next file of this shape is read as found.');
}
