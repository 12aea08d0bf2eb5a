import { fontColour, type Palette, paletteOf } from './font-colour.ts';
import { GENERAL_FORMAT, type NumberFormat, numberFormatById } from './number-format.ts';
import type { PackageParts } from './package-parts.ts';
import { PART_ROOTS } from './part-roots.ts';
import { counted, READ_LIMITS } from './read-limits.ts';
import { refuse } from './refusal.ts';
import { attributeOf, isOn, walkXml, type XmlAttributes } from './xml-walk.ts';

/** What the reader needs to know of a cell's style. */
export interface CellStyle {
  readonly numberFormat: NumberFormat;
  readonly struck: boolean;
  /** `RRGGBB` of a font colour other than black and white. */
  readonly colour: string | undefined;
}

export const PLAIN_STYLE: CellStyle = {
  numberFormat: GENERAL_FORMAT,
  struck: false,
  colour: undefined,
};

/** The styles of a workbook. */
export interface CellStyles {
  /** What cells point to by place (`cellXfs`). */
  readonly byPlace: readonly CellStyle[];
  readonly palette: Palette;
}

interface Font {
  struck: boolean;
  colour: XmlAttributes | undefined;
}

function whole(text: string | undefined): number {
  const value = Number(text ?? 0);
  return Number.isInteger(value) && value >= 0 ? value : 0;
}

/** Styles of a workbook that has none. */
export function noStyles(theme: readonly (string | undefined)[]): CellStyles {
  return { byPlace: [], palette: paletteOf(theme, []) };
}

function refuseMany(code: string, limit: number, things: string, where: string): never {
  const what = `The workbook has more than ${counted(limit)} ${things}.`;
  refuse(code, what, where, 'Copy the schedule into a new workbook, as values with their formats.');
}

/**
 * The styles of a workbook; none when the package lacks the part.
 * @param theme colours of the theme by number
 * @throws RefusalError `styles`, `number-formats`, and from reading the part
 */
export function readCellStyles(
  parts: PackageParts,
  name: string,
  theme: readonly (string | undefined)[],
): CellStyles {
  const bytes = parts.read(name);
  if (!bytes) return noStyles(theme);
  const patterns = new Map<number, string>();
  const fonts: Font[] = [];
  const indexed: (string | undefined)[] = [];
  const formats: { formatId: number; fontId: number }[] = [];
  const where = parts.where(name);
  let section = '';
  let depth = 0;
  walkXml(
    bytes,
    where,
    {
      open(element, attributes) {
        depth++;
        const many = Math.max(fonts.length, formats.length, indexed.length);
        if (many > READ_LIMITS.styles)
          refuseMany('styles', READ_LIMITS.styles, 'cell styles', where);
        if (patterns.size > READ_LIMITS.numberFormats) {
          refuseMany('number-formats', READ_LIMITS.numberFormats, 'number formats', where);
        }
        if (depth === 2) section = element;
        else if (section === 'numFmts' && element === 'numFmt') {
          const id = whole(attributeOf(attributes, 'numFmtId'));
          patterns.set(id, attributeOf(attributes, 'formatCode') ?? 'General');
        } else if (section === 'fonts') {
          if (depth === 3) fonts.push({ struck: false, colour: undefined });
          const font = fonts.at(-1);
          if (!font || depth !== 4) return;
          if (element === 'strike') font.struck = isOn(attributeOf(attributes, 'val'), true);
          else if (element === 'color') font.colour = attributes;
        } else if (section === 'colors' && element === 'rgbColor') {
          indexed.push(attributeOf(attributes, 'rgb'));
        } else if (section === 'cellXfs' && depth === 3) {
          const formatId = whole(attributeOf(attributes, 'numFmtId'));
          formats.push({ formatId, fontId: whole(attributeOf(attributes, 'fontId')) });
        }
      },
      close() {
        depth--;
      },
    },
    PART_ROOTS.styles,
  );
  const palette = paletteOf(theme, indexed);
  const colours = fonts.map(({ colour }) => colour && fontColour(colour, palette));
  const byId = new Map<number, NumberFormat>();
  const byPlace = formats.map(({ formatId, fontId }): CellStyle => {
    const numberFormat = byId.get(formatId) ?? numberFormatById(formatId, patterns);
    byId.set(formatId, numberFormat);
    return { numberFormat, struck: fonts[fontId]?.struck ?? false, colour: colours[fontId] };
  });
  return { byPlace, palette };
}
