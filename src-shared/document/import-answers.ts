import type {
  Fixture,
  ImportAnswers,
  RowOrigin,
  ScheduleSource,
  SheetRead,
  SkippedRow,
} from './project.ts';

/** Nothing answered: every reading as the program found it. */
export const noAnswers: ImportAnswers = {
  sheets: null,
  headerRows: [],
  columns: [],
  questions: [],
  cells: [],
  accepted: [],
};

/** The sheet a row came from; null for one that is not among those read. */
export function sheetOf(
  source: ScheduleSource,
  origin: Pick<RowOrigin, 'file' | 'sheet'>,
): SheetRead | null {
  return source.sheets.find((s) => s.file === origin.file && s.sheet === origin.sheet) ?? null;
}

/** Zero-based sheet column of a source column for a row; null: that sheet does not have it. */
export function columnOf(
  source: ScheduleSource,
  origin: Pick<RowOrigin, 'file' | 'sheet'>,
  place: number,
): number | null {
  return sheetOf(source, origin)?.columnAt[place] ?? null;
}

/** Rows that became fixtures, over all sheets. */
export function rowsRead(source: ScheduleSource): number {
  return source.sheets.reduce((sum, sheet) => sum + sheet.rowsRead, 0);
}

/** Rows left out, over all sheets; where there are several, the reason says which sheet. */
export function rowsSkipped({ sheets, files }: ScheduleSource): readonly SkippedRow[] {
  if (sheets.length === 1) return sheets[0]?.rowsSkipped ?? [];
  return sheets.flatMap(({ file, sheet, rowsSkipped: skipped }) => {
    const from = file === 0 ? `sheet ${sheet}` : `${files[file]?.fileName}, sheet ${sheet}`;
    return skipped.map(({ row, reason }) => ({ row, reason: `${reason} (${from})` }));
  });
}

/** Every source row of a fixture, the opened file's first. */
export function originsOf(fixture: Pick<Fixture, 'origin' | 'alsoFrom'>): readonly RowOrigin[] {
  return fixture.origin === null ? fixture.alsoFrom : [fixture.origin, ...fixture.alsoFrom];
}
