import type { SourceSheet } from '../../src-shared/document/source-workbook.ts';
import { GET_A_FRESH_COPY, refuse } from './refusal.ts';
import { type Relationship, readRelationships } from './relationships.ts';
import { columnSpans } from './sheet-columns.ts';
import { plural, type SheetContext } from './sheet-context.ts';
import { markFiltered } from './sheet-filters.ts';
import { settleMerges } from './sheet-merges.ts';
import { attachNotes } from './sheet-notes.ts';
import { readSheetPart } from './sheet-part.ts';
import type { ListedSheet } from './workbook-part.ts';

/**
 * The bytes of a listed sheet.
 * @throws RefusalError `outside-sheet`, `missing-sheet`, and those of reading a part
 */
function bytesOf(listed: ListedSheet, link: Relationship, { parts }: SheetContext): Uint8Array {
  if (link.outside) {
    const what = `The sheet ${listed.name} is said to lie outside of the file; nothing outside is read.`;
    refuse('outside-sheet', what, parts.fileName, GET_A_FRESH_COPY);
  }
  const bytes = parts.read(link.target);
  if (bytes) return bytes;
  const what = `The workbook lists the sheet ${listed.name} but does not hold it.`;
  return refuse('missing-sheet', what, parts.where(link.target), GET_A_FRESH_COPY);
}

/**
 * Reads one sheet with its merged areas, filters and notes.
 * @throws RefusalError with a word of its own for each way a sheet can be wrong
 */
export function readSheet(
  listed: ListedSheet,
  link: Relationship,
  context: SheetContext,
): SourceSheet {
  const { parts, remarks } = context;
  const { name, hidden } = listed;
  const read = readSheetPart(bytesOf(listed, link, context), link.target, name, context);
  const { rows, hiddenColumns } = read;
  const { merges, covered, overlapping } = settleMerges(read.merges, rows);
  const links = readRelationships(parts, link.target);
  markFiltered(parts, links, read.filters, rows);
  attachNotes(context, links, name, rows);
  const tell = (remark: string) => remarks.push(`Sheet ${name}: ${remark}`);
  if (hiddenColumns.length > 0) {
    tell(`hidden columns were read like the others: ${columnSpans(hiddenColumns)}.`);
  }
  if (covered > 0) {
    tell(`${plural(covered, 'value')} beneath merged cells, not seen in the sheet, left out.`);
  }
  if (overlapping > 0) {
    tell(`${plural(overlapping, 'merged area')} overlapping another left out.`);
  }
  if (read.lostMerges > 0) {
    tell(`${plural(read.lostMerges, 'merged area')} at a place no sheet has left out.`);
  }
  if (read.lostStyles > 0) {
    tell(
      `${plural(read.lostStyles, 'cell')} of a style that is not in the workbook, read as plain: dates may be shown as numbers.`,
    );
  }
  const sheet = { name, hidden, rows, merges };
  return hiddenColumns.length === 0 ? sheet : { ...sheet, hiddenColumns };
}
