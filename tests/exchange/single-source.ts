/** The source of a schedule read from one sheet of one file, for projects built by hand in tests. */
import { noAnswers } from '../../src-shared/document/import-answers.ts';
import type {
  Reading,
  ScheduleSource,
  SkippedRow,
  SourceColumn,
} from '../../src-shared/document/project.ts';

export function singleSource(one: {
  readonly fileName: string;
  readonly sheet: string;
  readonly headerRow: number;
  /** In the order of the sheet; `column` where they do not stand from the first on. */
  readonly columns: readonly (SourceColumn & { readonly column?: number })[];
  readonly rowsRead: number;
  readonly rowsSkipped: readonly SkippedRow[];
  readonly readings: readonly Reading[];
}): ScheduleSource {
  const { fileName, sheet, headerRow, columns, rowsRead, rowsSkipped, readings } = one;
  return {
    files: [{ fileName }],
    sheets: [
      {
        file: 0,
        sheet,
        headerRow,
        columnAt: columns.map(({ column }, place) => column ?? place),
        universeBase: 1,
        rowsRead,
        rowsSkipped,
      },
    ],
    columns: columns.map(({ header, columnId, unit }) => ({ header, columnId, unit })),
    readings,
    questions: [],
    answers: noAnswers,
  };
}
