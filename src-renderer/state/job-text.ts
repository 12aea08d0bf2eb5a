/** File names the job is saved and exported under. */
import type { Project } from '../../src-shared/document/project.ts';

function plain(text: string): string {
  // Signs no file system takes, and control characters, become blanks.
  return [...text]
    .map((sign) => ('<>:"/\\|?*'.includes(sign) || sign < ' ' ? ' ' : sign))
    .join('')
    .replace(/\s+/gu, ' ')
    .trim()
    .slice(0, 120);
}

/** `Foxglove Roundhouse Museum rev B`. */
export function jobTitle(project: Pick<Project, 'name' | 'revision'>): string {
  const name = plain(project.name) || 'Untitled job';
  return project.revision === null || plain(project.revision) === ''
    ? name
    : `${name} rev ${plain(project.revision)}`;
}

export function projectFileName(project: Pick<Project, 'name' | 'revision'>): string {
  return `${jobTitle(project)}.runledger`;
}

/** `isNew`: a workbook of our own beside the engineer's marked-up one, so that neither replaces the other. */
export function workbookFileName(
  project: Pick<Project, 'name' | 'revision'>,
  isNew = false,
): string {
  return `${jobTitle(project)} marked up${isNew ? ', new workbook' : ''}.xlsx`;
}
