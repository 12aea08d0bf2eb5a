/** Cell names of readings and answers as places in the files. */
import type { SourceWorkbook } from '../../document/source-workbook.ts';
import { cellName, columnLetters } from '../../document/source-workbook.ts';

export interface CellPlace {
  /** Place in the list of files. */
  readonly file: number;
  readonly sheet: string;
  readonly row: number;
  /** Zero-based. */
  readonly column: number;
}

/** `[install.xlsx]` before the cells of a further file, nothing before those of the first. */
export function filePrefix(file: number, fileName: string): string {
  return file === 0 ? '' : `[${fileName}]`;
}

/** `Schedule!`: what stands before a cell's letters and number. */
export function sheetPrefix(sheet: string): string {
  return cellName(sheet, 1, 0).slice(0, -2);
}

/** Zero-based column of letters such as `AB`; null when they are none of a sheet. */
export function columnOfLetters(letters: string): number | null {
  if (!/^[A-Z]{1,3}$/u.test(letters)) return null;
  let column = 0;
  for (const letter of letters) column = column * 26 + letter.charCodeAt(0) - 64;
  return columnLetters(column - 1) === letters ? column - 1 : null;
}

/** Finds cells by the names that readings give them. */
export class CellFinder {
  private readonly sheets = new Map<string, { file: number; sheet: string }>();

  constructor(workbooks: readonly Pick<SourceWorkbook, 'fileName' | 'sheets'>[]) {
    for (const [file, { fileName, sheets }] of workbooks.entries()) {
      for (const { name } of sheets) {
        const prefix = `${filePrefix(file, fileName)}${sheetPrefix(name)}`;
        if (!this.sheets.has(prefix)) this.sheets.set(prefix, { file, sheet: name });
      }
    }
  }

  /** The place a name such as `Schedule!K12` means; null when no sheet of the files has it. */
  find(name: string): CellPlace | null {
    const at = name.lastIndexOf('!') + 1;
    const sheet = this.sheets.get(name.slice(0, at));
    const found = /^([A-Z]{1,3})([1-9]\d{0,6})$/u.exec(name.slice(at));
    if (sheet === undefined || found?.[1] === undefined) return null;
    const column = columnOfLetters(found[1]);
    return column === null ? null : { ...sheet, row: Number(found[2]), column };
  }
}
