/** Answers for cells whose rows stand elsewhere in a revised file. */
import { originsOf } from '../../document/import-answers.ts';
import type { ImportAnswers, Project, ScheduleSource } from '../../document/project.ts';
import type { SourceSheet, SourceWorkbook } from '../../document/source-workbook.ts';
import { columnLetters } from '../../document/source-workbook.ts';
import { CellFinder, type CellPlace, filePrefix, sheetPrefix } from '../schedule/cell-place.ts';
import { textOf } from '../schedule/cell-text.ts';
import { uniqueFileNames } from '../schedule/file-names.ts';
import { findHeader, headerAt, joinedText } from '../schedule/find-header.ts';

/** Header text of a sheet column in the source; null: none is known. */
function headerOf(source: ScheduleSource, place: CellPlace): string | null {
  const read = source.sheets.find((s) => s.file === place.file && s.sheet === place.sheet);
  const at = read?.columnAt.indexOf(place.column) ?? -1;
  return at < 0 ? null : (source.columns[at]?.header ?? null);
}

/** The header of the tag column on a sheet; null: it has none. */
function tagHeaderOf(source: ScheduleSource, { file, sheet }: CellPlace): string | null {
  const read = source.sheets.find((s) => s.file === file && s.sheet === sheet);
  const at = source.columns.findIndex(({ columnId }, place) => {
    return columnId === 'tag' && read?.columnAt[place] != null;
  });
  return source.columns[at]?.header ?? null;
}

/** The tag of a row as the file had it; null: the row is no fixture's. */
function tagOfRow(project: Project, source: ScheduleSource, place: CellPlace): string | null {
  const header = tagHeaderOf(source, place);
  const tagAt = source.columns.findIndex((column) => column.header === header);
  for (const fixture of project.fixtures) {
    const origin = originsOf(fixture).find(
      (o) => o.file === place.file && o.sheet === place.sheet && o.row === place.row,
    );
    if (origin === undefined) continue;
    const cell = origin.cells[tagAt] ?? null;
    return cell === null ? fixture.tag : String(cell).trim();
  }
  return null;
}

/** The one row of the sheet with the tag, and the column under the header; null: none or several. */
function placeOfTag(
  sheet: SourceSheet,
  headerRow: number,
  headers: { readonly tag: string; readonly column: string },
  tag: string,
): { row: number; column: number } | null {
  const found = findHeader(sheet, new Map()) ?? headerAt(sheet, headerRow, new Map());
  const under = (text: string) => found?.texts.find((t) => joinedText(t) === text)?.column;
  const [tagColumn, column] = [under(headers.tag), under(headers.column)];
  if (found === null || tagColumn === undefined || column === undefined) return null;
  const rows = sheet.rows.filter(
    (row) =>
      row.number > found.row && textOf(row.cells.find((c) => c.column === tagColumn)) === tag,
  );
  const [row] = rows;
  return rows.length === 1 && row !== undefined ? { row: row.number, column } : null;
}

class CellMover {
  private readonly workbooks: readonly SourceWorkbook[];
  /** Finds cells by the names they had. */
  private readonly finder: CellFinder;

  constructor(
    private readonly project: Project,
    private readonly source: ScheduleSource,
    revised: readonly SourceWorkbook[],
  ) {
    this.workbooks = uniqueFileNames(revised);
    this.finder = new CellFinder(
      source.files.map(({ fileName }, file) => ({
        fileName,
        sheets: this.workbooks[file]?.sheets ?? [],
      })),
    );
  }

  /** The name the cell has in the revised files. */
  nameOf(cell: string): string {
    const { source } = this;
    const place = this.finder.find(cell);
    const sheet =
      place === null
        ? undefined
        : this.workbooks[place.file]?.sheets.find((s) => s.name === place.sheet);
    if (place === null || sheet === undefined) return cell;
    const column = headerOf(source, place);
    const tagHeader = tagHeaderOf(source, place);
    const tag = tagOfRow(this.project, source, place);
    if (column === null || tagHeader === null || tag === null) return this.name(place);
    const read = source.sheets.find((s) => s.file === place.file && s.sheet === place.sheet);
    const headers = { tag: tagHeader, column };
    return this.name({ ...place, ...placeOfTag(sheet, read?.headerRow ?? 1, headers, tag) });
  }

  private name({ file, sheet, row, column }: CellPlace): string {
    const prefix = filePrefix(file, this.workbooks[file]?.fileName ?? '');
    return `${prefix}${sheetPrefix(sheet)}${columnLetters(column)}${row}`;
  }
}

/**
 * The answers of a project for revised files: each goes with the tag of its row and the header of its
 * column to where they stand now. Whether the cell still says what was answered for is found on
 * reading: an answer that no longer fits is not used and told. A project without source has none.
 */
export function movedAnswers(
  project: Project,
  revised: readonly SourceWorkbook[],
): ImportAnswers | null {
  const { source } = project;
  if (source === null) return null;
  const mover = new CellMover(project, source, revised);
  const moved = <T extends { readonly cell: string }>(list: readonly T[]): T[] =>
    list.map((one) => ({ ...one, cell: mover.nameOf(one.cell) }));
  const { cells, accepted } = source.answers;
  return { ...source.answers, cells: moved(cells), accepted: moved(accepted) };
}
