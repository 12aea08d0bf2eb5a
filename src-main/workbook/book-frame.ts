/** Titles and paper of the sheets of the export. */
import type { Project } from '../../src-shared/document/project.ts';
import type { PrintFrame } from './write-print-setup.ts';

/** `Job, revision B: findings, 2031-05-04` */
export function titleOf(project: Project, sheet: string, date: string | null): string {
  const revision = project.revision === null ? '' : `, revision ${project.revision}`;
  return `${project.name}${revision}: ${sheet}${date === null ? '' : `, ${date}`}`;
}

/** Sheets with more columns than this are set up for large paper. */
const MOST_USUAL_COLUMNS = 14;

export interface Frames {
  readonly wide: PrintFrame;
  readonly usual: PrintFrame;
}

/** Large paper for the schedule and other wide sheets; the usual one for the rest. */
export function framesOf(project: Project, date: string | null): Frames {
  const { name, revision, settings } = project;
  const base = { jobName: name, revision, date };
  return settings.profile === 'iec'
    ? { wide: { ...base, paper: 8 }, usual: { ...base, paper: 9 } }
    : { wide: { ...base, paper: 3 }, usual: { ...base, paper: 1 } };
}

export function frameFor(frames: Frames, columns: number): PrintFrame {
  return columns > MOST_USUAL_COLUMNS ? frames.wide : frames.usual;
}
