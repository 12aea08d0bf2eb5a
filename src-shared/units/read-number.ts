/** Digits with their decimal and thousands marks as a number. */
import type { LoneGroup } from './quantity.ts';

/** What the sheet or the profile says about its decimal mark. */
export type DecimalMark = 'dot' | 'comma' | 'either';

export type ReadNumber =
  | { readonly ok: true; readonly value: number; readonly notes: readonly string[] }
  | { readonly ok: false; readonly reason: string };

/** Source of a regular expression for one unsigned number, blanks as thousands marks included. */
export const numberSource =
  '(?:\\d{1,3}(?: \\d{3})+(?![\\d/])(?:[.,]\\d+)*|\\d+(?:[.,]\\d+)*\\.?|\\.\\d+)(?:[eE][+-]?\\d+(?!\\d|[.,]\\d))?';

const COMMA_DECIMAL = 'comma read as the decimal mark';
const COMMA_THOUSANDS = 'comma read as a thousands mark';
const DOT_DECIMAL = 'dot read as the decimal mark';
const DOT_THOUSANDS = 'dot read as a thousands mark';
const SPACE_THOUSANDS = 'blank read as a thousands mark';

const grouped = (digits: string, mark: string): boolean => {
  const [first, ...rest] = digits.split(mark);
  return (first ?? '').length <= 3 && /^[1-9]/u.test(digits) && rest.every((g) => g.length === 3);
};

/**
 * Reads an unsigned number matched by `numberSource`.
 *
 * With both marks present the last one is the decimal mark. One mark alone is decided by `decimal`;
 * where three digits follow it and `decimal` is `either`, a dot is the decimal mark and a comma goes
 * by the unit (`loneGroup`; `null` refuses). Every reading that another convention would
 * contradict carries a note.
 */
export function readNumber(
  text: string,
  decimal: DecimalMark,
  loneGroup: LoneGroup | null,
): ReadNumber {
  const [mantissa = '', exponent = ''] = text.toLowerCase().split('e');
  const notes: string[] = [];
  if (mantissa.includes(' ')) notes.push(SPACE_THOUSANDS);
  const body = mantissa.replaceAll(' ', '').replace(/\.$/u, '');
  const plain = (digits: string, note?: string): ReadNumber => {
    const value = Number(exponent === '' ? digits : `${digits}e${exponent}`);
    if (!Number.isFinite(value)) return { ok: false, reason: `"${text}" is too large a number` };
    if (note !== undefined) notes.push(note);
    return { ok: true, value, notes };
  };
  const refuse: ReadNumber = { ok: false, reason: `"${text}" is not one number` };

  const commas = body.split(',').length - 1;
  const dots = body.split('.').length - 1;
  if (commas === 0 && dots === 0) return plain(body);
  if (commas > 0 && dots > 0) {
    const commaLast = body.lastIndexOf(',') > body.lastIndexOf('.');
    const [whole = '', part = ''] = [
      body.slice(0, Math.max(body.lastIndexOf(','), body.lastIndexOf('.'))),
      body.slice(Math.max(body.lastIndexOf(','), body.lastIndexOf('.')) + 1),
    ];
    const mark = commaLast ? '.' : ',';
    if (whole.includes(commaLast ? ',' : '.') || !grouped(whole, mark)) return refuse;
    const digits = `${whole.replaceAll(mark, '')}.${part}`;
    const agrees = decimal === 'either' || decimal === (commaLast ? 'comma' : 'dot');
    return plain(digits, agrees ? undefined : commaLast ? COMMA_DECIMAL : DOT_DECIMAL);
  }
  const mark = commas > 0 ? ',' : '.';
  const thousandsNote = commas > 0 ? COMMA_THOUSANDS : DOT_THOUSANDS;
  const decimalNote = commas > 0 ? COMMA_DECIMAL : DOT_DECIMAL;
  if (commas + dots > 1) {
    if (!grouped(body, mark)) return refuse;
    return plain(body.replaceAll(mark, ''), thousandsNote);
  }
  const decimalDigits = body.replace(',', '.');
  // A blank already marks thousands, so the other mark can only be the decimal one.
  const mayGroup = grouped(body, mark) && !mantissa.includes(' ');
  if (decimal === (commas > 0 ? 'comma' : 'dot')) return plain(decimalDigits);
  if (decimal !== 'either') {
    if (mayGroup) return plain(body.replace(mark, ''), thousandsNote);
    return plain(decimalDigits, decimalNote);
  }
  if (!mayGroup) return plain(decimalDigits, commas > 0 ? COMMA_DECIMAL : undefined);
  if (commas === 0) return plain(decimalDigits, DOT_DECIMAL);
  if (loneGroup === null) {
    const asDecimal = decimalDigits.replace(/0+$/u, '').replace(/\.$/u, '.0');
    return {
      ok: false,
      reason: `"${text}" could be ${body.replace(',', '')} or ${asDecimal}; write one of them`,
    };
  }
  if (loneGroup === 'thousands') return plain(body.replace(',', ''), COMMA_THOUSANDS);
  return plain(decimalDigits, COMMA_DECIMAL);
}
