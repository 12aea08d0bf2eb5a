/** The answers worth keeping for every file of one shape, as JSON text and back. */
import { z } from 'zod';
import { noAnswers } from '../../document/import-answers.ts';
import type { ImportAnswers, ScheduleSource } from '../../document/project.ts';

const kept = z.strictObject({
  sheets: z.array(z.strictObject({ file: z.int(), sheet: z.string() })).nullable(),
  headerRows: z.array(z.strictObject({ file: z.int(), sheet: z.string(), row: z.int() })),
  columns: z.array(z.strictObject({ header: z.string(), columnId: z.string().nullable() })),
  questions: z.array(
    z.strictObject({
      id: z.enum(['hidden-rows', 'universe-base', 'tag-match', 'sheets']),
      file: z.int(),
      value: z.string(),
    }),
  ),
});

/**
 * Sheets, header rows, header map and questions of the first file, as text; null where nothing was
 * answered. Answers for single cells belong to one file and are left out.
 */
export function rememberedAnswers(source: Pick<ScheduleSource, 'answers'>): string | null {
  const { columns, ...all } = source.answers;
  const ofFirst = <T extends { readonly file: number }>(list: readonly T[]) =>
    list.filter(({ file }) => file === 0);
  const sheets = all.sheets === null ? null : ofFirst(all.sheets);
  const headerRows = ofFirst(all.headerRows);
  const questions = ofFirst(all.questions);
  const count = (sheets?.length ?? 0) + headerRows.length + columns.length + questions.length;
  return count === 0 ? null : JSON.stringify({ sheets, headerRows, columns, questions });
}

/** What a remembered text says; null for one that says nothing readable. Never throws. */
export function readRememberedAnswers(text: string): ImportAnswers | null {
  try {
    const read = kept.safeParse(JSON.parse(text));
    return read.success ? { ...noAnswers, ...read.data } : null;
  } catch {
    return null;
  }
}
