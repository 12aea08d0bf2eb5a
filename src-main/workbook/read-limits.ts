/** How much of a file the reader takes in, at most; each has a refusal of its own. */
export const READ_LIMITS = {
  /** Bytes inflated in all (and bytes of a csv file). */
  inflatedBytes: 100_000_000,
  /** A part larger than `ratioFromBytes` may not be packed tighter than this. */
  packingRatio: 400,
  ratioFromBytes: 10_000_000,
  zipEntries: 20_000,
  xmlDepth: 200,
  sharedStrings: 3_000_000,
  rows: 200_000,
  columns: 1_000,
  cells: 3_000_000,
  /** Characters of all cells together: one long shared string may be used by many cells. */
  cellCharacters: 100_000_000,
  /** Characters of one cell: what the file format allows (ECMA-376 as written in practice). */
  charactersOfCell: 32_767,
  merges: 50_000,
  sheets: 1_000,
} as const;

/** The last row and column (zero-based) the file format itself allows (ECMA-376 as written in practice). */
export const SHEET_LAST_ROW = 1_048_576;
export const SHEET_LAST_COLUMN = 16_383;

/** `1234567` as `1,234,567`, for messages. */
export function counted(count: number): string {
  return String(count).replace(/\B(?=(\d{3})+$)/g, ',');
}
