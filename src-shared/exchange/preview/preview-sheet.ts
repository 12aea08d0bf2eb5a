/** The sheets of the source files as a preview shows them: every row, and what became of it. */
import { originsOf } from '../../document/import-answers.ts';
import type { Fixture, ScheduleSource, SheetRead } from '../../document/project.ts';
import type { SourceRow, SourceSheet, SourceWorkbook } from '../../document/source-workbook.ts';
import { columnLetters } from '../../document/source-workbook.ts';
import { CellFinder } from '../schedule/cell-place.ts';
import { headerAt } from '../schedule/find-header.ts';
import { type CellsOfSheet, type PreviewCell, previewCells, sheetKey } from './preview-cells.ts';

export interface PreviewColumn {
  /** Zero-based. */
  readonly column: number;
  readonly letters: string;
  /** The header as reported; null: none, or a sheet that is not read. */
  readonly header: string | null;
  /** What it was read as; null: carried along. */
  readonly columnId: string | null;
}

export interface PreviewOutcome {
  readonly kind: 'header' | 'above' | 'fixture' | 'skipped' | 'not-read';
  /** The tags it became, or why it was skipped. */
  readonly text: string;
}

export interface PreviewRow {
  /** As the spreadsheet counts. */
  readonly row: number;
  /** Texts by zero-based column, as they stand in the file. */
  readonly texts: ReadonlyMap<number, string>;
  readonly hidden: boolean;
  readonly outcome: PreviewOutcome;
  /** Cells with readings, by zero-based column. */
  readonly cells: ReadonlyMap<number, PreviewCell>;
}

export interface PreviewSheet {
  /** Place in `source.files`. */
  readonly file: number;
  readonly sheet: string;
  /** The row right above the data; null: the sheet is not read. */
  readonly headerRow: number | null;
  /** Read as the schedule or a part of it. */
  readonly read: boolean;
  readonly columns: readonly PreviewColumn[];
  readonly rows: readonly PreviewRow[];
}

const noCells: ReadonlyMap<number, PreviewCell> = new Map();

/** Tags by source row, over all sheets. */
function tagsByRow(fixtures: readonly Fixture[]): Map<string, (string | null)[]> {
  const tags = new Map<string, (string | null)[]>();
  for (const fixture of fixtures) {
    for (const { file, sheet, row } of originsOf(fixture)) {
      const key = `${sheetKey(file, sheet)}/${row}`;
      const list = tags.get(key);
      if (list === undefined) tags.set(key, [fixture.tag]);
      else list.push(fixture.tag);
    }
  }
  return tags;
}

function fixtureText(tags: readonly (string | null)[]): string {
  const [first] = tags;
  if (tags.length === 1) return first ?? 'a fixture without tag';
  const ends = `${first ?? '?'} to ${tags.at(-1) ?? '?'}`;
  return `${tags.length} fixtures, ${ends}`;
}

/** Decides what became of each row of one sheet. */
class Outcomes {
  private readonly skipped: ReadonlyMap<number, string>;
  private readonly upperRow: number | null;

  constructor(
    sheet: SourceSheet,
    private readonly file: number,
    private readonly read: SheetRead | null,
    private readonly tags: ReadonlyMap<string, (string | null)[]>,
  ) {
    this.skipped = new Map((read?.rowsSkipped ?? []).map(({ row, reason }) => [row, reason]));
    const header = read === null ? null : headerAt(sheet, read.headerRow, new Map());
    this.upperRow = header?.row === read?.headerRow ? (header?.upperRow ?? null) : null;
  }

  of(row: number): PreviewOutcome {
    const { read } = this;
    if (read === null) return { kind: 'not-read', text: '' };
    if (row === read.headerRow || row === this.upperRow) return { kind: 'header', text: 'header' };
    if (row < read.headerRow) return { kind: 'above', text: 'above the header' };
    const reason = this.skipped.get(row);
    if (reason !== undefined) return { kind: 'skipped', text: reason };
    const tags = this.tags.get(`${sheetKey(this.file, read.sheet)}/${row}`);
    // A fixture taken out since leaves its row behind.
    if (tags === undefined) return { kind: 'skipped', text: 'no fixture of it is left' };
    return { kind: 'fixture', text: fixtureText(tags) };
  }
}

function columnsOf(
  sheet: SourceSheet,
  read: SheetRead | null,
  source: ScheduleSource,
): PreviewColumn[] {
  let width = 0;
  for (const { cells } of sheet.rows) width = Math.max(width, (cells.at(-1)?.column ?? -1) + 1);
  const at = new Map<number, number>();
  for (const [place, column] of (read?.columnAt ?? []).entries()) {
    if (column !== null) at.set(column, place);
  }
  return Array.from({ length: width }, (_, column) => {
    const place = at.get(column);
    const known = place === undefined ? undefined : source.columns[place];
    return {
      column,
      letters: columnLetters(column),
      header: known?.header ?? null,
      columnId: known?.columnId ?? null,
    };
  });
}

function rowOf(row: SourceRow, outcomes: Outcomes, cells: CellsOfSheet | undefined): PreviewRow {
  return {
    row: row.number,
    texts: new Map(row.cells.map(({ column, text }) => [column, text])),
    hidden: row.hidden,
    outcome: outcomes.of(row.number),
    cells: cells?.get(row.number) ?? noCells,
  };
}

/**
 * Every sheet of the files with its rows: texts as they stand, what became of each row, and the
 * readings of its cells. `workbooks` in the order of `source.files`, without the engineer's answers.
 */
export function previewSheets(
  workbooks: readonly SourceWorkbook[],
  source: ScheduleSource,
  fixtures: readonly Fixture[],
): PreviewSheet[] {
  const named = workbooks.map(({ fileName, sheets }, file) => ({
    fileName: source.files[file]?.fileName ?? fileName,
    sheets,
  }));
  const cells = previewCells(source, new CellFinder(named));
  const tags = tagsByRow(fixtures);
  return named.flatMap(({ sheets }, file) =>
    sheets.map((sheet): PreviewSheet => {
      const read = source.sheets.find((s) => s.file === file && s.sheet === sheet.name) ?? null;
      const outcomes = new Outcomes(sheet, file, read, tags);
      const ofSheet = cells.get(sheetKey(file, sheet.name));
      return {
        file,
        sheet: sheet.name,
        headerRow: read?.headerRow ?? null,
        read: read !== null,
        columns: columnsOf(sheet, read, source),
        rows: sheet.rows.map((row) => rowOf(row, outcomes, ofSheet)),
      };
    }),
  );
}
