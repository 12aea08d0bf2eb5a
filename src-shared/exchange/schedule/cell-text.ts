/** Cells as text, and the marks in them that are not values. */
import type { SourceCell } from '../../document/source-workbook.ts';

/** Control and format marks, and every blank but the ordinary one. */
const oddMarks = /[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]|(?! )\p{Zs}/u;
const invisible = /[\u00AD\u200B-\u200F\u202A-\u202E\u2060-\u2064\uFEFF]/gu;
const wideBlanks = /[\u00A0\u1680\u2000-\u200A\u202F\u205F\u3000\t]/gu;

/** Most cells: plain signs, no blank at either end. */
const tidy = /^[!-~](?:[ -~]*[!-~])?$/u;

/** Text without outer blanks and invisible marks, every blank an ordinary one; dashes and quotes stay. */
export function cleanText(text: string): string {
  if (tidy.test(text)) return text;
  if (!oddMarks.test(text)) return text.trim();
  return text.replace(invisible, '').replace(wideBlanks, ' ').trim();
}

/** The cell's shown text, cleaned; `''` for no cell. */
export function textOf(cell: SourceCell | undefined): string {
  return cell === undefined ? '' : cleanText(cell.text);
}

/** True for no cell, a blank one, or only invisible marks. A formula without a result is not blank. */
export function isBlank(cell: SourceCell | undefined): boolean {
  if (cell === undefined) return true;
  return cell.kind === 'text' && cell.formula === undefined && cleanText(cell.text) === '';
}

const dittos = /^(?:["〃″”“]|''|-\s?(?:"|”|〃)\s?-|"\s+"|ditto\.?|do\.|as above)$/iu;

/** `"`, `〃`, `ditto`, `do.`: the value of the cell above. */
export function isDitto(text: string): boolean {
  return text.length <= 8 && dittos.test(text);
}

const dashes = /^(?:[-–—−]{1,3}|n\.?\/?a\.?)$/iu;

/** `-`, `–`, `n/a`: written, but meaning that there is nothing. */
export function isDash(text: string): boolean {
  return text.length <= 4 && dashes.test(text);
}

/** Errors as a spreadsheet shows them: a csv file and our own export have them as text. */
const errorText =
  /^#(?:REF|VALUE|NUM|NULL|DIV\/0|NAME|N\/A|SPILL|CALC|FIELD|BLOCKED|CONNECT|GETTING_DATA|BUSY|UNKNOWN)[!?]?$/u;

/** Why a cell has no value at all: an error, or a formula without a stored result. Null when it has one. */
export function whyNoValue(cell: SourceCell): string | null {
  if (cell.kind === 'error' || errorText.test(cell.text))
    return `the cell holds the error ${cleanText(cell.text)}`;
  if (cell.formula !== undefined && (cell.value === null || cell.value === '')) {
    return 'a formula without a stored result; open the file in a spreadsheet program and save it';
  }
  return null;
}

/** Names compared: case, and blanks of any number, do not count. */
export function looseKey(text: string): string {
  return text.trim().toLowerCase().replace(/\s+/gu, ' ');
}
