/** Why a whole file gives no schedule. A single cell never refuses a file. */
export interface ReadRefusal {
  /** `bad-option`: a word of the caller is wrong; `no-schedule`: the file holds none. */
  readonly code: 'bad-option' | 'no-schedule';
  readonly what: string;
  /** The option as the check command spells it, the cell, or the file and sheet. */
  readonly where: string;
  readonly todo: string;
}

/** A caller's word that does not fit; `option` as the check command spells it. */
export function badOption(option: string, what: string, todo: string): ReadRefusal {
  return { code: 'bad-option', what, where: option, todo };
}

export function noSchedule(where: string, what: string): ReadRefusal {
  const todo =
    'Check that the sheet has a header row with a tag column and rows of fixtures below it, or name the sheet, its header row and what its columns hold (column map).';
  return { code: 'no-schedule', what, where, todo };
}
