/**
 * How much of a file the reader takes in, at most; each has a refusal of its own. Together they hold
 * what any file can cost under 5 s and 300 MB (shown by tests/workbook/bad-input.test.ts).
 */
export const READ_LIMITS = {
  /** Bytes of a workbook as it stands on disk. */
  packageBytes: 150_000_000,
  /** Bytes inflated in all. */
  inflatedBytes: 100_000_000,
  /** A part larger than `ratioFromBytes` may not be packed tighter than this. */
  packingRatio: 400,
  ratioFromBytes: 10_000_000,
  zipEntries: 20_000,
  xmlDepth: 200,
  /** Attributes of one element. */
  xmlAttributes: 1_000,
  /** Characters of one text, attribute or comment within a part. */
  xmlPiece: 5_000_000,
  sharedStrings: 500_000,
  /** Bytes of a csv file, and of one line of it. */
  csvBytes: 25_000_000,
  csvLineBytes: 5_000_000,
  rows: 25_000,
  columns: 1_000,
  cells: 450_000,
  /** Characters of all cells together: one long shared string may be used by many cells. */
  cellCharacters: 10_000_000,
  /** Characters of one cell: what the file format allows (ECMA-376 as written in practice). */
  charactersOfCell: 32_767,
  merges: 50_000,
  notes: 50_000,
  /** Links of one part to others. */
  links: 20_000,
  /** Cell styles, and fonts; programs stop at 65,490. */
  styles: 100_000,
  /** Number formats the file brings; programs stop at a few hundred. */
  numberFormats: 5_000,
  sheets: 1_000,
  /** Remarks on one file; the rest is counted. */
  remarks: 100,
} as const;

/** The last row and column (zero-based) the file format itself allows (ECMA-376 as written in practice). */
export const SHEET_LAST_ROW = 1_048_576;
export const SHEET_LAST_COLUMN = 16_383;

/** `1234567` as `1,234,567`, for messages. */
export function counted(count: number): string {
  return String(count).replace(/\B(?=(\d{3})+$)/g, ',');
}
