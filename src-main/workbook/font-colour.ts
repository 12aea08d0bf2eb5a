import { tinted } from './colour-tint.ts';
import type { PackageParts } from './package-parts.ts';
import { PART_ROOTS } from './part-roots.ts';
import { attributeOf, isOn, walkXml, type XmlAttributes } from './xml-walk.ts';

/** Colours that fonts name by number (ECMA-376 part 1, 18.8.27); 8 … 15 repeat 0 … 7. */
const EIGHT = ['000000', 'FFFFFF', 'FF0000', '00FF00', '0000FF', 'FFFF00', 'FF00FF', '00FFFF'];
const INDEXED: readonly string[] = [
  ...EIGHT,
  ...EIGHT,
  ...['800000', '008000', '000080', '808000', '800080', '008080', 'C0C0C0', '808080'],
  ...['9999FF', '993366', 'FFFFCC', 'CCFFFF', '660066', 'FF8080', '0066CC', 'CCCCFF'],
  ...['000080', 'FF00FF', 'FFFF00', '00FFFF', '800080', '800000', '008080', '0000FF'],
  ...['00CCFF', 'CCFFFF', 'CCFFCC', 'FFFF99', '99CCFF', 'FF99CC', 'CC99FF', 'FFCC99'],
  ...['3366FF', '33CCCC', '99CC00', 'FFCC00', 'FF9900', 'FF6600', '666699', '969696'],
  ...['003366', '339966', '003300', '333300', '993300', '993366', '333399', '333333'],
];

/** Slots of a theme in the order fonts number them: light and dark stand the other way round there. */
const THEME_SLOTS = [
  'lt1', 'dk1', 'lt2', 'dk2', 'accent1', 'accent2',
  'accent3', 'accent4', 'accent5', 'accent6', 'hlink', 'folHlink',
]; // biome-ignore format: a list

/** What colours by number mean in one workbook. */
export interface Palette {
  /** `RRGGBB` by theme number. */
  readonly theme: readonly (string | undefined)[];
  /** `RRGGBB` by index. */
  readonly indexed: readonly string[];
}

const rgbOf = (text: string | undefined): string | undefined => {
  const match = /^(?:[0-9a-f]{2})?([0-9a-f]{6})$/i.exec(text ?? '');
  return match?.[1]?.toUpperCase();
};

/** The theme's colours by number; black and white alone where the workbook has no theme. */
export function readThemeColours(
  parts: PackageParts,
  name: string | undefined,
): (string | undefined)[] {
  const bySlot = new Map<string, string>([
    ['lt1', 'FFFFFF'],
    ['dk1', '000000'],
  ]);
  const bytes = name === undefined ? undefined : parts.read(name);
  if (name !== undefined && bytes) {
    let slot: string | undefined;
    let inScheme = false;
    walkXml(
      bytes,
      parts.where(name),
      {
        open(element, attributes) {
          if (element === 'clrScheme') inScheme = true;
          else if (inScheme && THEME_SLOTS.includes(element)) slot = element;
          else if (slot !== undefined && (element === 'srgbClr' || element === 'sysClr')) {
            const rgb = rgbOf(attributeOf(attributes, element === 'srgbClr' ? 'val' : 'lastClr'));
            if (rgb !== undefined) bySlot.set(slot, rgb);
          }
        },
        close(element) {
          if (element === 'clrScheme') inScheme = false;
          else if (element === slot) slot = undefined;
        },
      },
      PART_ROOTS.theme,
    );
  }
  return THEME_SLOTS.map((slot) => bySlot.get(slot));
}

/** A palette from the theme and the indexed colours a workbook sets itself. */
export function paletteOf(
  theme: readonly (string | undefined)[],
  own: readonly (string | undefined)[],
): Palette {
  return { theme, indexed: INDEXED.map((colour, at) => rgbOf(own[at]) ?? colour) };
}

/**
 * The colour a font's `color` element stands for (ECMA-376 part 1, 18.3.1.15), or undefined when it
 * is automatic, black, white or not to be told.
 */
export function fontColour(attributes: XmlAttributes, palette: Palette): string | undefined {
  if (isOn(attributeOf(attributes, 'auto'))) return undefined;
  const theme = attributeOf(attributes, 'theme');
  const indexed = attributeOf(attributes, 'indexed');
  let base = rgbOf(attributeOf(attributes, 'rgb'));
  if (base === undefined && theme !== undefined) base = palette.theme[Number(theme)];
  if (base === undefined && indexed !== undefined) base = palette.indexed[Number(indexed)];
  if (base === undefined) return undefined;
  const colour = tinted(base, Number(attributeOf(attributes, 'tint') ?? 0));
  return colour === '000000' || colour === 'FFFFFF' ? undefined : colour;
}
