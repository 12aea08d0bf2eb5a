/** One cell as XML. */
import { columnLetters } from '../../../src-shared/document/source-workbook.ts';
import type { CellContent } from '../../../src-shared/exchange/export/export-table.ts';
import { cellText } from './xml-write.ts';

/** Texts stand in the cell itself, so that the list of shared texts stays as it is. */
export function cellXml(
  prefix: string,
  row: number,
  column: number,
  style: number,
  content: CellContent,
): string {
  const head = `<${prefix}c r="${columnLetters(column)}${row}"${style > 0 ? ` s="${style}"` : ''}`;
  if (typeof content === 'string' && content !== '') {
    const text = `<${prefix}is><${prefix}t xml:space="preserve">${cellText(content)}</${prefix}t></${prefix}is>`;
    return `${head} t="inlineStr">${text}</${prefix}c>`;
  }
  if (typeof content === 'boolean') {
    return `${head} t="b"><${prefix}v>${content ? 1 : 0}</${prefix}v></${prefix}c>`;
  }
  if (typeof content === 'number' && Number.isFinite(content)) {
    return `${head}><${prefix}v>${content}</${prefix}v></${prefix}c>`;
  }
  return `${head}/>`;
}
