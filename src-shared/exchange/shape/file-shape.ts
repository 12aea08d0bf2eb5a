/** The shape of a file by its header row: what was answered for one file holds for the next of its shape. */
import { noAnswers } from '../../document/import-answers.ts';
import type { SourceWorkbook } from '../../document/source-workbook.ts';
import { findOwnColumns } from '../export/own-columns.ts';
import { type FoundHeader, headerAt, joinedText } from '../schedule/find-header.ts';
import { headerWords } from '../schedule/header-words.ts';
import { mappedHeaders } from '../schedule/plan-columns.ts';
import { rankSheets } from '../schedule/rank-sheets.ts';

const none = mappedHeaders(noAnswers.columns);

/** FNV-1a over UTF-16 units, 32 bits: http://www.isthe.com/chongo/tech/comp/fnv (constants from memory). */
function fnv1a(text: string, basis: number): number {
  let hash = basis;
  for (let at = 0; at < text.length; at += 1) {
    hash ^= text.charCodeAt(at);
    hash = Math.imul(hash, 0x01000193) >>> 0;
  }
  return hash;
}

const hex = (hash: number): string => hash.toString(16).padStart(8, '0');

function headerOf(
  workbook: SourceWorkbook,
  sheet: string | undefined,
  headerRow: number | undefined,
): FoundHeader | null {
  const found = workbook.sheets.find(({ name }) => name === sheet);
  if (found !== undefined && headerRow !== undefined) return headerAt(found, headerRow, none);
  const sheets = found === undefined ? workbook.sheets : [found];
  return rankSheets({ ...workbook, sheets }, new Map(), none)[0]?.header ?? null;
}

/**
 * A short key of a header row, of the signs `a-z 0-9 . -`: the same for the same header texts in the
 * same order, whatever stands above and below. Capitals, blanks and punctuation do not count, nor do
 * our own columns. Without `sheet` and `headerRow` the header that would be read as the schedule's.
 */
export function shapeOf(workbook: SourceWorkbook, sheet?: string, headerRow?: number): string {
  const header = headerOf(workbook, sheet, headerRow);
  if (header === null) return 'no-header';
  const headers = header.texts.map(joinedText);
  const ours = findOwnColumns(headers);
  const theirs = headers.filter((_, place) => !ours.has(place)).map(headerWords);
  const text = theirs.join('\n');
  return `${theirs.length}-${hex(fnv1a(text, 0x811c9dc5))}${hex(fnv1a(text, 0x1f83d9ab))}`;
}
