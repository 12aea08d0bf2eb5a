import { readFileSync } from 'node:fs';
import { packProject } from '../../src-main/projects/pack-project.ts';
import type { SourceFile } from '../../src-main/projects/project-parts.ts';
import { writeProject } from '../../src-shared/format/project-json.ts';
import { sampleProject } from '../format/sample-project.ts';

const folder = new URL('../files/workbook/', import.meta.url);

export const sampleText = writeProject(sampleProject);

/** A workbook another program wrote. */
export const sampleSource: SourceFile = {
  name: 'larkspur.xlsx',
  bytes: new Uint8Array(readFileSync(new URL('xlsxwriter-plain.xlsx', folder))),
};

/** A second one, by yet another program. */
export const secondSource: SourceFile = {
  name: 'install.xlsx',
  bytes: new Uint8Array(readFileSync(new URL('openpyxl-schedule.xlsx', folder))),
};

/** The sample project as a file, with its source workbooks or others. */
export function sampleFile(sources: readonly SourceFile[] = [sampleSource]): Uint8Array {
  return packProject({ projectText: sampleText, sources, appVersion: '0.1.0' });
}
