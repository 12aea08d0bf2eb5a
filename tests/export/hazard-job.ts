/** A schedule, invented, whose texts are all of the kind that goes wrong in workbooks. */
import { blankFixture, blankProject } from '../../src-shared/document/blank.ts';
import type { Project } from '../../src-shared/document/project.ts';
import { singleSource } from '../exchange/single-source.ts';

export const hazards = [
  '=1+1',
  '=HYPERLINK("x")',
  '+44',
  '-5',
  '@sum',
  '\tindented',
  '\rreturn',
  'line\nbreak',
  ' outer blanks ',
  '_x0041_',
  '_x005F_',
  '007',
  '3-1',
  '1e5',
  'TRUE',
  '<b>&"\'',
  'bell\u0007',
  'naïve 漢字 😀',
  '__proto__',
  'constructor',
  "'quoted",
  '{=A1}',
] as const;

export function hazardJob(sheet = 'Schedule'): Project {
  const blank = blankProject('Hazards & <co> "=1"');
  return {
    ...blank,
    revision: '&C',
    fixtures: hazards.map((text, i) => ({
      ...blankFixture(`f${i + 1}`),
      tag: text,
      remarks: text,
      origin: { file: 0, sheet, row: i + 2, cells: [text, text, text] },
    })),
    source: singleSource({
      fileName: 'hazards.xlsx',
      sheet,
      headerRow: 1,
      columns: [
        { column: 0, header: 'Tag', columnId: 'tag', unit: null },
        { column: 1, header: '__proto__', columnId: null, unit: null },
        { column: 2, header: '=Remarks', columnId: 'remarks', unit: null },
      ],
      rowsRead: hazards.length,
      rowsSkipped: [],
      readings: [],
    }),
  };
}
