import type { SourceWorkbook } from '../../src-shared/document/source-workbook.ts';
import { PROJECT_ENTRY } from './package-kind.ts';
import { PackageParts } from './package-parts.ts';
import { readCsv } from './read-csv.ts';
import { readXlsx } from './read-xlsx.ts';
import {
  type FileRefusal,
  GET_A_FRESH_COPY,
  RefusalError,
  refuse,
  SAVE_AS_XLSX,
} from './refusal.ts';
import { type SniffedKind, sniffKind } from './sniff-kind.ts';
import { readZipDirectory } from './zip-directory.ts';

/** What came of reading a file. A saved project is only recognised here, not opened. */
export type ReadOutcome =
  | { readonly ok: true; readonly kind: 'workbook'; readonly workbook: SourceWorkbook }
  | { readonly ok: true; readonly kind: 'project' }
  | { readonly ok: false; readonly refusal: FileRefusal };

/** What a refused kind of file is, and what to do about it. */
const REFUSED_KINDS: ReadonlyMap<SniffedKind, readonly [what: string, todo: string]> = new Map([
  ['empty', ['The file is empty.', 'Choose another file, or export the schedule again.']],
  ['empty-zip', ['The file is a zip file with nothing in it.', GET_A_FRESH_COPY]],
  ['old-workbook', ['This is a workbook in the old binary form (.xls).', SAVE_AS_XLSX]],
  [
    'encrypted',
    [
      'The workbook is protected with a password.',
      'Open it in a spreadsheet program, take the password off and save it as .xlsx.',
    ],
  ],
  ['old-office', ['This is an old text document or presentation, not a workbook.', SAVE_AS_XLSX]],
  ['pdf', ['This is a PDF, a picture of a table.', 'Ask for the workbook or csv file behind it.']],
  ['rtf', ['This is a rich text document, not a workbook.', SAVE_AS_XLSX]],
  ['html', ['This is a web page, whatever its name says.', SAVE_AS_XLSX]],
  ['xml', ['This is an XML file, not a workbook.', SAVE_AS_XLSX]],
  ['binary', ['This is neither a workbook nor text.', 'Choose a .xlsx or .csv file.']],
]);

/** File name without folders, whatever their separators. */
function bareName(fileName: string): string {
  return fileName.split(/[\\/]/).pop() || 'file';
}

function renamed(workbook: SourceWorkbook): SourceWorkbook {
  const extension = /\.([^.]+)$/.exec(workbook.fileName)?.[1]?.toLowerCase();
  const office = ['xlsx', 'xlsm', 'xls', 'xlsb', 'xltx', 'ods'];
  let remark: string | undefined;
  if (workbook.kind === 'csv' && extension !== undefined && office.includes(extension)) {
    remark = `The file is named .${extension} but holds plain text; it was read as csv.`;
  } else if (workbook.kind === 'xlsx' && extension !== undefined && extension !== 'xlsx') {
    remark = `The file is named .${extension} but holds an .xlsx workbook; it was read as that.`;
  }
  return remark === undefined ? workbook : { ...workbook, remarks: [remark, ...workbook.remarks] };
}

function read(bytes: Uint8Array, fileName: string): ReadOutcome {
  const kind = sniffKind(bytes);
  if (kind === 'text') {
    return { ok: true, kind: 'workbook', workbook: renamed(readCsv(bytes, fileName)) };
  }
  if (kind === 'zip') {
    const parts = new PackageParts(bytes, readZipDirectory(bytes, fileName), fileName);
    if (parts.has(PROJECT_ENTRY)) return { ok: true, kind: 'project' };
    return { ok: true, kind: 'workbook', workbook: renamed(readXlsx(parts)) };
  }
  const [what, todo] = REFUSED_KINDS.get(kind) ?? ['The file cannot be read.', SAVE_AS_XLSX];
  refuse(kind, what, fileName, todo);
}

/**
 * Reads a `.xlsx` or `.csv` file as plain data. Tells the kind by the bytes, never by the name.
 * Does not throw: whatever is wrong with the file comes back as a refusal.
 * @param bytes the whole file
 * @param fileName its name, with or without folders; used for messages and the csv sheet name
 */
export function readSourceFile(bytes: Uint8Array, fileName: string): ReadOutcome {
  const name = bareName(fileName);
  try {
    return read(bytes, name);
  } catch (error) {
    if (error instanceof RefusalError) return { ok: false, refusal: error.refusal };
    return {
      ok: false,
      refusal: {
        code: 'unreadable',
        what: 'The file could not be read: it is built in a way the reader does not know.',
        where: name,
        todo: GET_A_FRESH_COPY,
      },
    };
  }
}
