/** The demo as rows of the grid, edited as the window edits it. */
import { type FixtureRow, type GridRow, updateRows } from '../../src-renderer/state/row-model.ts';
import type { Project } from '../../src-shared/document/project.ts';
import { OpenJob, openJob } from '../demo/open-job.ts';

const demoFile = new URL('../../src-main/demo/foxglove-roundhouse.xlsx', import.meta.url);
let read: Project | null = null;

/** A fresh job over the demo; the workbook is read once. */
export function demoJob(): OpenJob {
  read ??= openJob(demoFile);
  return new OpenJob(read);
}

export function rowsOf(job: OpenJob): readonly GridRow[] {
  return updateRows([], job.session).rows;
}

/** The row of a tag. Throws where there is none. */
export function rowOf(rows: readonly GridRow[], tag: string): FixtureRow {
  for (const row of rows) if (row.kind === 'fixture' && row.facts.fixture.tag === tag) return row;
  throw new Error(`no row ${tag}`);
}
