import { GENERAL_FORMAT, type NumberFormat, numberFormatById } from './number-format.ts';
import type { PackageParts } from './package-parts.ts';
import { attributeOf, isOn, walkXml } from './xml-walk.ts';

/** What the reader needs to know of a cell's style. */
export interface CellStyle {
  readonly numberFormat: NumberFormat;
  readonly struck: boolean;
}

export const PLAIN_STYLE: CellStyle = { numberFormat: GENERAL_FORMAT, struck: false };

function whole(text: string | undefined): number {
  const value = Number(text ?? 0);
  return Number.isInteger(value) && value >= 0 ? value : 0;
}

/**
 * The styles cells point to by place (`cellXfs`); empty when the package lacks the part.
 * @throws RefusalError from reading the part
 */
export function readCellStyles(parts: PackageParts, name: string): CellStyle[] {
  const bytes = parts.read(name);
  if (!bytes) return [];
  const patterns = new Map<number, string>();
  const fontStruck: boolean[] = [];
  const formats: { formatId: number; fontId: number }[] = [];
  let section = '';
  let depth = 0;
  walkXml(bytes, parts.where(name), {
    open(element, attributes) {
      depth++;
      if (depth === 2) section = element;
      else if (section === 'numFmts' && element === 'numFmt') {
        const id = whole(attributeOf(attributes, 'numFmtId'));
        patterns.set(id, attributeOf(attributes, 'formatCode') ?? 'General');
      } else if (section === 'fonts') {
        if (depth === 3) fontStruck.push(false);
        else if (element === 'strike') {
          fontStruck[fontStruck.length - 1] = isOn(attributeOf(attributes, 'val'), true);
        }
      } else if (section === 'cellXfs' && depth === 3) {
        const formatId = whole(attributeOf(attributes, 'numFmtId'));
        formats.push({ formatId, fontId: whole(attributeOf(attributes, 'fontId')) });
      }
    },
    close() {
      depth--;
    },
  });
  const byId = new Map<number, NumberFormat>();
  return formats.map(({ formatId, fontId }) => {
    const numberFormat = byId.get(formatId) ?? numberFormatById(formatId, patterns);
    byId.set(formatId, numberFormat);
    return { numberFormat, struck: fontStruck[fontId] ?? false };
  });
}
