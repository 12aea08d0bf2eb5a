import type { XmlRoot } from './xml-walk.ts';

/** Outermost elements of the parts that are read (ECMA-376 part 1, 12.3 and part 2, 6.5; MS-XLSX). */
export const PART_ROOTS = {
  workbook: { name: 'workbook', holds: 'the list of sheets' },
  sheet: { name: 'worksheet', holds: 'a sheet' },
  strings: { name: 'sst', holds: 'the texts of cells' },
  styles: { name: 'styleSheet', holds: 'the styles of cells' },
  theme: { name: 'theme', holds: 'the colours of the workbook' },
  links: { name: 'Relationships', holds: 'links between parts' },
  notes: { name: 'comments', holds: 'notes' },
  threads: { name: 'ThreadedComments', holds: 'comment threads' },
  table: { name: 'table', holds: 'a table' },
} as const satisfies Record<string, XmlRoot>;
