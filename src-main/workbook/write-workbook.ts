/** The marked-up schedule as a new workbook. */
import type { Workbook } from 'exceljs';
import type { Project } from '../../src-shared/document/project.ts';
import type { ExportTable } from '../../src-shared/exchange/export/export-table.ts';
import { FindingMarks } from '../../src-shared/exchange/export/finding-marks.ts';
import { resultTables } from '../../src-shared/exchange/export/result-tables.ts';
import { headerRowOf, ScheduleLayout } from '../../src-shared/exchange/export/schedule-layout.ts';
import { scheduleTable } from '../../src-shared/exchange/export/schedule-table.ts';
import { projectSheets } from '../../src-shared/exchange/project-sheets.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';
import { frameFor, framesOf, titleOf } from './book-frame.ts';
import { NoteSizes } from './note-boxes.ts';
import { touchUp } from './package-touch-up.ts';
import { COLUMNS_NAME_MARK, markOfSheet } from './patch/own-traces.ts';
import { areaText, quotedSheet } from './patch/references.ts';
import { absoluteArea } from './patch/workbook-edit.ts';
import { freeSheetName } from './sheet-titles.ts';
import { writeTable } from './write-sheet.ts';
import { StyleBook } from './write-styles.ts';
import { writeSupportSheet } from './write-support-sheet.ts';

export interface WriteOptions {
  /** Date of issue, ISO (`2031-05-04`): printed, and kept as the file's own date. None: no date anywhere. */
  readonly date?: string;
  /** The project's session, where the caller has one solved already. */
  readonly session?: EngineSession;
}

function setDates(workbook: Workbook, date: string | null): boolean {
  const time = date === null ? Number.NaN : Date.parse(date);
  const stamp = new Date(Number.isNaN(time) ? 0 : time);
  workbook.creator = 'Runledger';
  workbook.lastModifiedBy = 'Runledger';
  workbook.created = stamp;
  workbook.modified = stamp;
  return !Number.isNaN(time);
}

/** The area of our columns, header included: those behind the columns of the source. */
function columnsArea(sheet: string, table: ExportTable): string {
  const typed = table.columns.map(({ ink }) => ink).lastIndexOf('typed');
  const firstRow = headerRowOf(table);
  const area = {
    firstRow,
    lastRow: firstRow + table.rows.length,
    firstColumn: typed + 1,
    lastColumn: table.columns.length - 1,
  };
  return absoluteArea(sheet, areaText(area));
}

/**
 * The marked-up schedule of a project: a workbook with the engineer's columns and ours, findings,
 * runs, circuits, patch, takeoff, assumptions, and the sheets that carry types, supplies, lines and
 * settings. Reads back as the same schedule. Same project and options, same bytes.
 */
export async function writeMarkedUpWorkbook(
  project: Project,
  options: WriteOptions = {},
): Promise<Uint8Array> {
  const { default: ExcelJS } = await import('exceljs');
  const session = options.session ?? new EngineSession(project);
  const date = options.date ?? null;
  const workbook = new ExcelJS.Workbook();
  const dated = setDates(workbook, date);
  const styles = new StyleBook();
  const notes = new NoteSizes();
  const frames = framesOf(project, date);
  const marks = new FindingMarks(session);
  const schedule = scheduleTable(project, session, marks);
  const supports = projectSheets(project);
  const others = resultTables(project, session, marks, new ScheduleLayout(project, schedule));
  // Our own names are fixed, so that they are known again; the schedule's gives way.
  const taken = new Set([...others, ...supports].map((sheet) => sheet.name.toLowerCase()));
  const name = freeSheetName(schedule.name, taken);
  const title = titleOf(project, 'marked-up schedule', date);
  writeTable(workbook, name, title, schedule, frames.wide, styles, notes);
  for (const table of others) {
    const head = titleOf(project, table.name.toLowerCase(), date);
    const frame = frameFor(frames, table.columns.length);
    writeTable(workbook, table.name, head, table, frame, styles, notes);
  }
  for (const sheet of supports) writeSupportSheet(workbook, sheet, frames.usual, styles);
  const widths = new Map(
    workbook.worksheets.map((sheet) => [
      sheet.id,
      sheet.columns === null ? [] : sheet.columns.map((column) => column.width ?? 9),
    ]),
  );
  // Stored only: the package is compressed once, when it is repacked.
  const stored = { zip: { compression: 'STORE' } } as unknown as Parameters<
    typeof workbook.xlsx.writeBuffer
  >[0];
  const bytes = new Uint8Array((await workbook.xlsx.writeBuffer(stored)) as ArrayBuffer);
  const names = new Map(
    workbook.worksheets
      .filter((sheet) => sheet.name !== name)
      .map((sheet) => [markOfSheet(sheet.name), `${quotedSheet(sheet.name)}!$A$1`]),
  );
  names.set(`${COLUMNS_NAME_MARK}1`, columnsArea(name, schedule));
  return touchUp(bytes, { notes, widths, names, dated });
}
