import type { SourceCell } from '../../src-shared/document/source-workbook.ts';
import { type CellStyle, PLAIN_STYLE } from './cell-styles.ts';
import { serialFromIso, tidyIso } from './date-serial.ts';
import { unescapeText } from './escaped-text.ts';
import { readNumber, shownText } from './number-format.ts';
import { counted } from './read-limits.ts';
import { GET_A_FRESH_COPY, refuse } from './refusal.ts';
import type { RichText } from './rich-text.ts';
import { lookOf } from './run-look.ts';
import type { SheetContext } from './sheet-context.ts';

/** A `c` element as it stood in the sheet (ECMA-376 part 1, 18.3.1.4). */
export interface StoredCell {
  /** Type as written: `s`, `str`, `inlineStr`, `b`, `e`, `d` or `n`. */
  readonly type: string;
  /** Place of its style. */
  readonly style: number;
  /** Text of `v`; undefined when there is no `v`. */
  readonly stored: string | undefined;
  readonly inline: RichText | undefined;
  readonly hasFormula: boolean;
}

/** A cell as read, without place, formula and note. `value` is null for a formula without result. */
export type CellReading = Pick<SourceCell, 'text' | 'value' | 'kind'> & {
  readonly struck: boolean;
  /** The struck part of a text struck in part. */
  readonly struckText?: string | undefined;
  readonly colour: string | undefined;
};

/** Letters `Number` takes in `0x1F`, `0b1` and `0o7`, which no number in a workbook has. */
const OTHER_BASE = /[xbo]/i;

function textReading(text: string, style: CellStyle): CellReading {
  const shown = style.numberFormat.shapesText ? shownText(text, style.numberFormat) : text;
  return { text: shown, value: text, kind: 'text', struck: style.struck, colour: style.colour };
}

function richReading(rich: RichText, style: CellStyle, context: SheetContext): CellReading {
  if (rich.runs === undefined) return textReading(rich.text, style);
  const { text, ...look } = lookOf(rich, style, context.styles.palette);
  return { ...textReading(text, style), ...look };
}

function sharedText(stored: string, context: SheetContext, where: () => string): RichText {
  if (!context.strings) {
    const what = 'The workbook lacks the part that holds its texts (shared strings).';
    return refuse('missing-strings', what, where(), GET_A_FRESH_COPY);
  }
  const place = Number(stored.trim());
  const text = context.strings[place];
  if (text) return text;
  if (!/^[0-9]+$/.test(stored.trim())) {
    const shown = stored.trim().slice(0, 40);
    const what = `A cell points to its text by "${shown}", which is no place in a list.`;
    return refuse('string-number', what, where(), GET_A_FRESH_COPY);
  }
  const count = counted(context.strings.length);
  const what = `A cell points to text ${counted(place)} of a workbook that holds ${count} (counted from 0).`;
  return refuse('string-place', what, where(), GET_A_FRESH_COPY);
}

/**
 * Reads a stored cell, or gives undefined for an empty one.
 * @param where names the cell, for messages; called only when needed
 * @throws RefusalError when a shared text is missing
 */
export function readCellValue(
  cell: StoredCell,
  context: SheetContext,
  where: () => string,
): CellReading | undefined {
  const style = context.styles.byPlace[cell.style] ?? PLAIN_STYLE;
  const { type, stored, inline } = cell;
  const look = { struck: style.struck, colour: style.colour };
  if (inline && (type === 'inlineStr' || stored === undefined)) {
    if (inline.text !== '') return richReading(inline, style, context);
    return cell.hasFormula ? textReading('', style) : undefined;
  }
  if (stored === undefined || (stored.trim() === '' && type !== 'str')) {
    if (!cell.hasFormula) return undefined;
    return { text: '', value: null, kind: 'text', ...look };
  }
  switch (type) {
    case 's': {
      const shared = sharedText(stored, context, where);
      return shared.text === '' && !cell.hasFormula
        ? undefined
        : richReading(shared, style, context);
    }
    case 'b': {
      const value = /^(1|true)$/i.test(stored.trim());
      return { text: value ? 'TRUE' : 'FALSE', value, kind: 'boolean', ...look };
    }
    case 'e': {
      const text = stored.trim();
      return { text, value: text, kind: 'error', ...look };
    }
    case 'd': {
      const value = tidyIso(stored);
      const { numberFormat } = style;
      const serial = numberFormat.kind === 'date' ? serialFromIso(value) : undefined;
      const text = serial === undefined ? value : shownText(serial, numberFormat);
      return { text, value, kind: 'date', ...look };
    }
    case 'str':
    case 'inlineStr': {
      const text = unescapeText(stored);
      return text === '' && !cell.hasFormula ? undefined : textReading(text, style);
    }
    default: {
      const trimmed = stored.trim();
      const value = Number(trimmed);
      // Not a number although the file says so: shown as it stands rather than lost.
      if (!Number.isFinite(value) || OTHER_BASE.test(trimmed)) {
        return textReading(unescapeText(stored), style);
      }
      const read = readNumber(value, style.numberFormat, context.date1904);
      return { text: read.text, value: read.value, kind: read.kind, ...look };
    }
  }
}
