/** Why a file was not read, in words for the person who chose it. */
export interface FileRefusal {
  /** Stable word for programs: `cut-off`, `encrypted`, `rows` … */
  readonly code: string;
  /** What is wrong. */
  readonly what: string;
  /** Where: the file, and the part, sheet, row or cell if known. */
  readonly where: string;
  /** What to do about it. */
  readonly todo: string;
}

/** Carries a refusal out of the depths of the reader; caught by `readSourceFile`, never shown itself. */
export class RefusalError extends Error {
  readonly refusal: FileRefusal;

  constructor(refusal: FileRefusal) {
    super(refusal.what);
    this.name = 'RefusalError';
    this.refusal = refusal;
  }
}

/** Ends the reading of a file. Throws `RefusalError`. */
export function refuse(code: string, what: string, where: string, todo: string): never {
  throw new RefusalError({ code, what, where, todo });
}

/** What to do about a file that is cut or altered. */
export const GET_A_FRESH_COPY =
  'Get a fresh copy of the file, or open it in a spreadsheet program and save it again as .xlsx.';

/** What to do about a file of another kind. */
export const SAVE_AS_XLSX = 'Open it in a spreadsheet program and save it as .xlsx or .csv.';

/** What to do about a file beyond a limit. */
export const MAKE_IT_SMALLER =
  'Keep the schedule and its legend in a workbook of their own and open that.';
