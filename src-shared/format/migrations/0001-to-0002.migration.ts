import type { Migration } from './migration.ts';

type Json = Record<string, unknown>;

const asObject = (value: unknown): Json => value as Json;
const asList = (value: unknown): Json[] => value as Json[];

const changedNote = /^changed in the import report to "(.*?)"; /su;

/** Version 1 kept what was answered in the notes of the readings only. */
function answeredCells(readings: readonly Json[]): Json[] {
  const cells = new Map<unknown, Json>();
  for (const { cell, raw, note, value } of readings) {
    const words = String(note);
    const changed = changedNote.exec(words)?.[1];
    if (changed !== undefined) cells.set(cell, { cell, raw, text: changed });
    else if (words === 'left blank in the import report')
      cells.set(cell, { cell, raw, text: null });
    else if (words === 'changed in the import report')
      cells.set(cell, { cell, raw, text: String(value ?? '') });
  }
  return [...cells.values()];
}

function migrateSource(source: Json): Json {
  const columns = asList(source.columns);
  const readings = asList(source.readings);
  return {
    files: [{ fileName: source.fileName }],
    sheets: [
      {
        file: 0,
        sheet: source.sheet,
        headerRow: source.headerRow,
        columnAt: columns.map(({ column }) => column),
        universeBase: 1,
        rowsRead: source.rowsRead,
        rowsSkipped: source.rowsSkipped,
      },
    ],
    columns: columns.map(({ header, columnId, unit }) => ({ header, columnId, unit })),
    readings,
    questions: [],
    answers: {
      sheets: [{ file: 0, sheet: source.sheet }],
      headerRows: [{ file: 0, sheet: source.sheet, row: source.headerRow }],
      columns: [],
      questions: [],
      cells: answeredCells(readings),
      accepted: [],
    },
  };
}

function migrateFixture(fixture: Json): Json {
  const origin = fixture.origin === null ? null : { file: 0, ...asObject(fixture.origin) };
  return { ...fixture, origin, alsoFrom: [] };
}

/** Several files and sheets as one schedule, and the engineer's answers kept as such. */
export const migration0001: Migration = {
  from: 1,
  what: 'source of several sheets and files; answers kept with the document',
  migrate: (project) => {
    const { fixtures, source, ...rest } = asObject(project);
    return {
      ...rest,
      fixtures: asList(fixtures).map(migrateFixture),
      source: source === null ? null : migrateSource(asObject(source)),
    };
  },
};
