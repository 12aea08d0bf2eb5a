import { GET_A_FRESH_COPY, refuse, SAVE_AS_XLSX } from './refusal.ts';
import type { SniffedKind } from './sniff-kind.ts';

const CHOOSE_ANOTHER = 'Choose another file, or export the schedule again.';

/** What a refused kind of file is, and what to do about it. */
const REFUSED_KINDS: ReadonlyMap<SniffedKind, readonly [what: string, todo: string]> = new Map([
  ['empty', ['The file is empty.', CHOOSE_ANOTHER]],
  ['blank', ['The file holds nothing but blanks.', CHOOSE_ANOTHER]],
  ['empty-zip', ['The file is a zip file with nothing in it.', GET_A_FRESH_COPY]],
  [
    'zip-behind',
    [
      'The workbook does not begin at the start of the file: something stands in front of it.',
      'Download or export the file again; a mail or web program may have added to it.',
    ],
  ],
  ['old-workbook', ['This is a workbook in the old binary form (.xls).', SAVE_AS_XLSX]],
  [
    'encrypted',
    [
      'The workbook is protected with a password.',
      'Open it in a spreadsheet program, take the password off and save it as .xlsx.',
    ],
  ],
  ['old-office', ['This is an old text document or presentation, not a workbook.', SAVE_AS_XLSX]],
  [
    'old-container',
    [
      'This is an old binary file (.xls, .doc or the like), cut off or with no workbook in it.',
      GET_A_FRESH_COPY,
    ],
  ],
  ['pdf', ['This is a PDF, a picture of a table.', 'Ask for the workbook or csv file behind it.']],
  ['rtf', ['This is a rich text document, not a workbook.', SAVE_AS_XLSX]],
  [
    'picture',
    ['This is a picture, not a workbook.', 'Ask for the workbook or csv file it was taken of.'],
  ],
  [
    'archive',
    [
      'This is a packed archive, not a workbook.',
      'Unpack it and open the workbook or csv file inside.',
    ],
  ],
  ['html', ['This is a web page, whatever its name says.', SAVE_AS_XLSX]],
  ['xml-workbook', ['This is a workbook in an older XML form.', SAVE_AS_XLSX]],
  ['xml-file', ['This is an XML file, not a workbook.', SAVE_AS_XLSX]],
  [
    'json',
    ['This is a JSON file, not a table.', 'Export the schedule as .xlsx or .csv and open that.'],
  ],
  ['binary', ['This is neither a workbook nor text.', 'Choose a .xlsx or .csv file.']],
]);

/** Refuses a file for its kind. Throws `RefusalError` with the kind as its code. */
export function refuseKind(kind: SniffedKind, fileName: string): never {
  const [what, todo] = REFUSED_KINDS.get(kind) ?? ['The file cannot be read.', SAVE_AS_XLSX];
  refuse(kind, what, fileName, todo);
}
