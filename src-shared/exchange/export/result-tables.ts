import type { Project } from '../../document/project.ts';
import type { EngineSession } from '../../session/engine-session.ts';
import { assumptionsTable } from './assumptions-table.ts';
import { circuitsTable } from './circuits-table.ts';
import type { ExportTable } from './export-table.ts';
import type { FindingMarks } from './finding-marks.ts';
import { type FindingPlaces, findingsTable } from './findings-table.ts';
import { patchTable } from './patch-table.ts';
import { runsTable } from './runs-table.ts';
import { takeoffTable } from './takeoff-table.ts';

/** The tables beside the schedule, in the order of their sheets. */
export function resultTables(
  project: Project,
  session: EngineSession,
  marks: FindingMarks,
  places: FindingPlaces,
): ExportTable[] {
  return [
    findingsTable(project, session, places),
    runsTable(project, session, marks),
    circuitsTable(project, session, marks),
    patchTable(project, session, marks),
    takeoffTable(project, session),
    assumptionsTable(project, session),
  ];
}
