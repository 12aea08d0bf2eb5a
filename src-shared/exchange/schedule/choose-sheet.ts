/** Which sheet of a workbook holds the schedule, and where its header stands. */
import type { SourceSheet, SourceWorkbook } from '../../document/source-workbook.ts';
import { sheetNames } from '../sheet-names.ts';
import { isBlank, looseKey } from './cell-text.ts';
import { type FoundHeader, findHeader, headerAt, type MappedHeaders } from './find-header.ts';
import { headerWords } from './header-words.ts';
import { matchJoinedHeader } from './match-header.ts';
import { badOption, noSchedule, type ReadRefusal } from './read-refusal.ts';

/** A sheet that could be read as the schedule, best first. */
export interface SheetCandidate {
  readonly sheet: string;
  /** The row right above the data. */
  readonly headerRow: number;
  /** How many columns were recognised. */
  readonly columnsKnown: number;
  /** Filled rows below the header. */
  readonly rowsBelow: number;
}

export interface ChosenSheet {
  readonly sheet: SourceSheet;
  readonly header: FoundHeader;
}

export type SheetChoice =
  | {
      readonly ok: true;
      readonly chosen: ChosenSheet;
      readonly candidates: readonly SheetCandidate[];
    }
  | { readonly ok: false; readonly refusal: ReadRefusal };

const setAside = new Set(
  [
    sheetNames.types,
    sheetNames.supplies,
    sheetNames.lines,
    sheetNames.project,
    sheetNames.findings,
    sheetNames.runs,
    sheetNames.circuits,
    sheetNames.patch,
    sheetNames.takeoff,
    sheetNames.assumptions,
    'Legend',
    'Fixture types',
    'Luminaire types',
  ].map(looseKey),
);

interface Ranked extends ChosenSheet {
  readonly aside: number;
  readonly hasRows: boolean;
  readonly rowsBelow: number;
}

function tagColumn(header: FoundHeader, mapped: MappedHeaders): number | null {
  const given = header.texts.find(
    (t) => mapped.get(headerWords(t.upper === '' ? t.lower : `${t.upper} / ${t.lower}`)) === 'tag',
  );
  if (given !== undefined) return given.column;
  return (
    header.texts.find((t) => matchJoinedHeader(t.upper, t.lower)?.id === 'tag')?.column ?? null
  );
}

function rank(sheet: SourceSheet, header: FoundHeader, mapped: MappedHeaders): Ranked {
  const below = sheet.rows.filter((row) => row.number > header.row);
  const tag = tagColumn(header, mapped);
  const hasRows = below.some((row) =>
    row.cells.some((cell) => cell.column === tag && !isBlank(cell)),
  );
  // Supporting sheets and hidden sheets only when nothing else holds a schedule.
  const aside = (setAside.has(looseKey(sheet.name)) ? 1 : 0) + (sheet.hidden ? 2 : 0);
  return { sheet, header, aside, hasRows, rowsBelow: below.length };
}

function compare(a: Ranked, b: Ranked): number {
  return (
    Number(b.hasRows) - Number(a.hasRows) ||
    a.aside - b.aside ||
    b.header.known - a.header.known ||
    b.rowsBelow - a.rowsBelow
  );
}

function named(workbook: SourceWorkbook, name: string): SourceSheet | null {
  const exact = workbook.sheets.find((sheet) => sheet.name === name);
  if (exact !== undefined) return exact;
  return workbook.sheets.find((sheet) => looseKey(sheet.name) === looseKey(name)) ?? null;
}

function listSheets(workbook: SourceWorkbook): string {
  const names = workbook.sheets.slice(0, 12).map((sheet) => `"${sheet.name}"`);
  return names.length === 0 ? 'The file has no sheets.' : `Its sheets are ${names.join(', ')}.`;
}

function atRow(
  sheets: readonly SourceSheet[],
  row: number,
  workbook: SourceWorkbook,
  mapped: MappedHeaders,
): Ranked[] | ReadRefusal {
  const todo = 'Give the number of a filled row, counted as the spreadsheet counts.';
  const option = `--header-row ${row}`;
  if (!Number.isInteger(row) || row < 1) return badOption(option, 'That is no row number.', todo);
  const headers = sheets.flatMap((sheet) => {
    const header = headerAt(sheet, row, mapped);
    return header === null ? [] : [rank(sheet, header, mapped)];
  });
  if (headers.length === 0) {
    const where = sheets.length === 1 ? `sheet "${sheets[0]?.name}"` : workbook.fileName;
    return badOption(option, `Row ${row} of ${where} is empty or beyond the last row.`, todo);
  }
  return headers;
}

/**
 * Chooses the sheet whose header names most columns, a tag among them; supporting sheets and hidden
 * ones come last. Refused: a sheet or header row that does not exist, and a file without tag header.
 */
export function chooseSheet(
  workbook: SourceWorkbook,
  options: { readonly sheet?: string | undefined; readonly headerRow?: number | undefined },
  mapped: MappedHeaders,
): SheetChoice {
  let sheets = workbook.sheets;
  if (options.sheet !== undefined) {
    const found = named(workbook, options.sheet);
    if (found === null) {
      const what = `There is no sheet "${options.sheet}" in ${workbook.fileName}.`;
      const refusal = badOption(`--sheet ${options.sheet}`, what, listSheets(workbook));
      return { ok: false, refusal };
    }
    sheets = [found];
  }
  let ranked: Ranked[];
  if (options.headerRow !== undefined) {
    const found = atRow(sheets, options.headerRow, workbook, mapped);
    if (!Array.isArray(found)) return { ok: false, refusal: found };
    ranked = found;
  } else {
    ranked = sheets.flatMap((sheet) => {
      const header = findHeader(sheet, mapped);
      return header === null ? [] : [rank(sheet, header, mapped)];
    });
  }
  const [best, ...others] = ranked.filter((r) => r.header.hasTag).sort(compare);
  if (best === undefined) {
    const where = sheets.length === 1 ? `sheet "${sheets[0]?.name}"` : workbook.fileName;
    return { ok: false, refusal: noSchedule(where, 'No header row with a tag column was found.') };
  }
  const candidates = [best, ...others.filter((r) => r.hasRows)].map(
    ({ sheet, header, rowsBelow }) => ({
      sheet: sheet.name,
      headerRow: header.row,
      columnsKnown: header.known,
      rowsBelow,
    }),
  );
  return { ok: true, chosen: best, candidates };
}
