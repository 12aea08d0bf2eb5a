/** The marked-up schedule: the engineer's own columns with ours beside them. */
import type { Project } from '../../document/project.ts';
import { countFindings, summarySentence } from '../../limits/finding.ts';
import type { EngineSession } from '../../session/engine-session.ts';
import { sheetNames } from '../sheet-names.ts';
import type { ExportTable } from './export-table.ts';
import { FindingMarks } from './finding-marks.ts';
import { ScheduleRows } from './schedule-rows.ts';
import { letterLegend } from './severity-letters.ts';
import { SourceCells } from './source-cells.ts';

/**
 * The schedule as a plain table: every row of the document in its order, the engineer's columns
 * with the values the file had where nothing was edited, then ours. Solved numbers are unrounded;
 * what is unknown is null.
 */
export function scheduleTable(
  project: Project,
  session: EngineSession,
  marks: FindingMarks = new FindingMarks(session),
): ExportTable {
  const { source } = project;
  const cells = source === null ? null : new SourceCells(project, source);
  const builder = new ScheduleRows(project, session, marks, cells);
  const counts = countFindings(session.findings);
  const review = counts.stop > 0 ? ' For review only, not for construction.' : '';
  return {
    name: project.source?.sheets[0]?.sheet ?? sheetNames.schedule,
    lead: [
      `${summarySentence(counts)}${review}`,
      `Marks: ${letterLegend}; each marked cell has its finding in a note. Outlined: not as in the source file. Blue: typed. Dark: solved.`,
    ],
    columns: builder.columns.map((column) => column.shown),
    rows: project.fixtures.map((fixture) => builder.row(fixture)),
  };
}
