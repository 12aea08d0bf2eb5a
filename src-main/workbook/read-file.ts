import type { SourceWorkbook } from '../../src-shared/document/source-workbook.ts';
import { refuseNul } from './csv-guard-size.ts';
import { PROJECT_ENTRY } from './package-kind.ts';
import { PackageParts } from './package-parts.ts';
import { readCsv } from './read-csv.ts';
import { counted, READ_LIMITS } from './read-limits.ts';
import { readXlsx } from './read-xlsx.ts';
import {
  type FileRefusal,
  GET_A_FRESH_COPY,
  MAKE_IT_SMALLER,
  RefusalError,
  refuse,
} from './refusal.ts';
import { refuseKind } from './refused-kinds.ts';
import { sniffKind } from './sniff-kind.ts';
import { readZipDirectory } from './zip-directory.ts';

/** What came of reading a file. A saved project is only recognised here, not opened. */
export type ReadOutcome =
  | { readonly ok: true; readonly kind: 'workbook'; readonly workbook: SourceWorkbook }
  | { readonly ok: true; readonly kind: 'project' }
  | { readonly ok: false; readonly refusal: FileRefusal };

/** File name without folders, whatever their separators. */
function bareName(fileName: string): string {
  return fileName.split(/[\\/]/).pop() || 'file';
}

function renamed(workbook: SourceWorkbook): SourceWorkbook {
  const extension = /\.([^.]+)$/.exec(workbook.fileName)?.[1]?.toLowerCase();
  const office = ['xlsx', 'xlsm', 'xls', 'xlsb', 'xltx', 'xltm', 'ods'];
  let remark: string | undefined;
  if (workbook.kind === 'csv' && extension !== undefined && office.includes(extension)) {
    remark = `The file is named .${extension} but holds plain text; it was read as csv.`;
  } else if (workbook.kind === 'xlsx' && extension !== undefined && extension !== 'xlsx') {
    remark = `The file is named .${extension} but holds an .xlsx workbook; it was read as that.`;
  }
  return remark === undefined ? workbook : { ...workbook, remarks: [remark, ...workbook.remarks] };
}

function readPackage(bytes: Uint8Array, fileName: string): ReadOutcome {
  const remarks: string[] = [];
  const entries = readZipDirectory(bytes, fileName, remarks);
  const parts = new PackageParts(bytes, entries, fileName);
  if (parts.has(PROJECT_ENTRY)) return { ok: true, kind: 'project' };
  if (bytes.length > READ_LIMITS.packageBytes) {
    const limit = counted(READ_LIMITS.packageBytes / 1e6);
    const what = `The workbook is larger than ${limit} MB.`;
    refuse('package-bytes', what, fileName, MAKE_IT_SMALLER);
  }
  return { ok: true, kind: 'workbook', workbook: renamed(readXlsx(parts, remarks)) };
}

function read(bytes: Uint8Array, fileName: string): ReadOutcome {
  const kind = sniffKind(bytes);
  if (kind === 'zip') return readPackage(bytes, fileName);
  if (kind === 'text-nul') refuseNul(bytes, fileName);
  if (kind !== 'text') refuseKind(kind, fileName);
  return { ok: true, kind: 'workbook', workbook: renamed(readCsv(bytes, fileName)) };
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

/** Whether a file is refused for its size or kind alone, or is a project: no worker is needed. */
export function isDecidedAtOnce(bytes: Uint8Array): boolean {
  return bytes.length > Math.min(READ_LIMITS.packageBytes, READ_LIMITS.csvBytes)
    ? sniffKind(bytes) !== 'zip' || bytes.length > READ_LIMITS.packageBytes
    : false;
}
