/** Sheets of the engineer's in a file of ours that came back and was read from our own sheet. */
import type { Project } from '../../../src-shared/document/project.ts';
import type { SourceSheet, SourceWorkbook } from '../../../src-shared/document/source-workbook.ts';
import type { ReturnedSheet } from '../../../src-shared/exchange/export/build-markup-plan.ts';
import {
  findOwnColumns,
  NO_LONGER_IN_JOB,
} from '../../../src-shared/exchange/export/own-columns.ts';
import { headerAt, joinedText } from '../../../src-shared/exchange/schedule/find-header.ts';
import type { OwnTraces } from './own-traces.ts';

/** The rows of a sheet by what our columns said in them: ids of fixtures, or that there is none any more. */
function rowsOf(
  sheet: SourceSheet,
  headerRow: number,
  idColumn: number,
  findingsColumn: number | undefined,
  project: Project,
): Pick<ReturnedSheet, 'groups' | 'goneRows'> {
  const fixtures = new Map(project.fixtures.map((fixture) => [fixture.id, fixture]));
  const groups: ReturnedSheet['groups'][number][] = [];
  const goneRows: number[] = [];
  for (const { number, cells } of sheet.rows) {
    if (number <= headerRow) continue;
    const textAt = (column: number | undefined) =>
      cells.find((cell) => cell.column === column)?.text.trim() ?? '';
    const ids = textAt(idColumn)
      .split(/\s+/u)
      .filter((id) => id !== '');
    const left = ids.flatMap((id) => fixtures.get(id) ?? []);
    if (left.length > 0) {
      const stated = ids.length > 1 ? ids.length : null;
      groups.push({ row: number, fixtures: left, isSeveral: ids.length > 1, stated });
    } else if (ids.length > 0 || textAt(findingsColumn) === NO_LONGER_IN_JOB) {
      goneRows.push(number);
    }
  }
  return { groups, goneRows };
}

/**
 * Finds them by the hidden names of our columns: where the columns of the schedule stand in each, and
 * which of its rows stands for which fixtures.
 */
export function returnedSheets(
  workbook: SourceWorkbook,
  traces: OwnTraces,
  project: Project,
  file: number,
): ReturnedSheet[] {
  const { source } = project;
  if (source === null) return [];
  const known = new Set(source.sheets.filter((s) => s.file === file).map((s) => s.sheet));
  return [...traces.columns].flatMap(([name, area]): ReturnedSheet[] => {
    const sheet = workbook.sheets.find((one) => one.name === name);
    if (sheet === undefined || known.has(name)) return [];
    const headerRow = area.firstRow;
    const texts = headerAt(sheet, headerRow, new Map())?.texts ?? [];
    const inOurs = (column: number) => column >= area.firstColumn && column <= area.lastColumn;
    const ours = texts.filter(({ column }) => inOurs(column));
    const keys = findOwnColumns(ours.map(joinedText));
    const columnOfKey = (key: string) => {
      const place = [...keys].find(([, one]) => one === key)?.[0];
      return place === undefined ? undefined : ours[place]?.column;
    };
    const idColumn = columnOfKey('rowId');
    if (idColumn === undefined) return [];
    const theirs = texts.filter(({ column }) => !inOurs(column));
    const columnAt = source.columns.map(
      ({ header }) => theirs.find((text) => joinedText(text) === header)?.column ?? null,
    );
    const read = {
      file,
      sheet: name,
      headerRow,
      columnAt,
      universeBase: 1 as const,
      rowsRead: -1,
      rowsSkipped: [],
    };
    const ourColumns = ours.flatMap((text) => {
      const place = source.columns.findIndex(({ header }) => header === joinedText(text));
      return place < 0 || columnAt[place] !== null ? [] : [place];
    });
    const rows = rowsOf(sheet, headerRow, idColumn, columnOfKey('findings'), project);
    return [{ read, ourColumns, ...rows }];
  });
}
