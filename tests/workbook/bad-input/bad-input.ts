/** One bad file of the corpus and what is to become of it. */
export interface BadInput {
  /** What is wrong; the row of the table. */
  readonly title: string;
  /** File name it is given under. */
  readonly fileName: string;
  readonly make: () => Uint8Array;
  readonly expected: Expected;
  /**
   * What the wrongness is. Two files of one kind may have the same message; of two kinds, never.
   * The title, when left out.
   */
  readonly kind?: string;
  /** Measured in a process of its own: it may need much memory. */
  readonly fresh?: true;
  /** A schedule, however poor: the document made of it is in the memory measured. */
  readonly isDocument?: true;
}

/** Refused with a code, or read as a schedule of so many fixtures, with remarks that say so. */
export type Expected =
  | { readonly refused: string }
  | { readonly fixtures: number; readonly remark: RegExp | null };

/** Refused with a code of its own. */
export const refused = (code: string): Expected => ({ refused: code });

/** Read: what is odd costs nothing, and a remark says so (null: nothing to say). */
export const readAs = (fixtures: number, remark: RegExp | null): Expected => ({ fixtures, remark });

type Options = Partial<Pick<BadInput, 'fileName' | 'kind' | 'fresh' | 'isDocument'>>;

/** A row of the corpus; the file is a `.xlsx` unless said otherwise. */
export function bad(
  title: string,
  expected: Expected,
  make: () => Uint8Array,
  options: Options = {},
): BadInput {
  return { title, fileName: 'schedule.xlsx', make, expected, ...options };
}
