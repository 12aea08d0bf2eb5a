/** Marks on the engineer's own cells: a shade, an outline; number format, alignment and letters stay. */
import type { Severity } from '../../../src-shared/limits/limit.ts';
import type { StylesEdit } from './styles-edit.ts';
import { localName, scanXml } from './xml-scan.ts';
import { withAttribute } from './xml-write.ts';

export interface ForeignMark {
  readonly severity: Severity | null;
  /** The cell says something else than the source file. */
  readonly changed: boolean;
  /** Its text begins like a formula. */
  readonly quoted: boolean;
}

/** Pale enough for black, red and blue letters; the letter of a severity stands in note and Findings. */
const shades: Readonly<Record<Exclude<Severity, 'not-checked'>, string>> = {
  stop: 'FFF1BFCB',
  breach: 'FFF9E3D5',
  watch: 'FFF5EAC4',
  note: 'FFDFE7EC',
};

const INK = 'FF1B262C';
const twoDigits = (value: number): string => value.toString(16).toUpperCase().padStart(2, '0');

/** A colour whose last places carry a number no eye sees: it tells looks apart that must not merge. */
function tinged(rgb: readonly [number, number, number], n: number): string {
  const [r, g, b] = rgb.map((part, i) => (part & 0xf0) | ((n >> (4 * i)) & 0xf));
  return `FF${twoDigits(r ?? 0)}${twoDigits(g ?? 0)}${twoDigits(b ?? 0)}`;
}

function fillXml(p: string, severity: Severity, base: number): string {
  if (severity === 'not-checked') {
    const line = tinged([0xc0, 0xc0, 0xb0], base);
    return `<${p}fill><${p}patternFill patternType="lightUp"><${p}fgColor rgb="${line}"/><${p}bgColor rgb="FFF4F2EC"/></${p}patternFill></${p}fill>`;
  }
  // A solid fill does not show its second colour: it carries the number of the look before.
  const hidden = `FF${base.toString(16).toUpperCase().padStart(6, '0').slice(-6)}`;
  return `<${p}fill><${p}patternFill patternType="solid"><${p}fgColor rgb="${shades[severity]}"/><${p}bgColor rgb="${hidden}"/></${p}patternFill></${p}fill>`;
}

function outlineXml(p: string, base: number): string {
  const edge = tinged([0x10, 0x60, 0x70], base);
  const side = (name: string) =>
    `<${p}${name} style="medium"><${p}color rgb="${edge}"/></${p}${name}>`;
  return `<${p}border>${['left', 'right', 'top', 'bottom'].map(side).join('')}<${p}diagonal/></${p}border>`;
}

/** Letters in white or nearly so, which a pale shade would swallow. */
function isPale(font: string): boolean {
  let pale = false;
  scanXml(font, '', {
    open(tag) {
      if (localName(tag.name) !== 'color') return;
      const { rgb, theme, indexed } = tag.attributes;
      if (rgb !== undefined) {
        const [r = 0, g = 0, b = 0] = [-6, -4, -2].map((at) =>
          Number.parseInt(rgb.slice(at, at + 2 || undefined), 16),
        );
        pale = 0.3 * r + 0.59 * g + 0.11 * b > 170;
      } else pale = theme === '0' || indexed === '1' || indexed === '9';
    },
  });
  return pale;
}

/** Looks of marked cells, made from the looks they had; each is made once. */
export class ForeignLooks {
  /** Marked look to the look before. */
  readonly before = new Map<number, number>();
  private readonly styles: StylesEdit;
  private readonly made = new Map<string, number>();

  constructor(styles: StylesEdit) {
    this.styles = styles;
  }

  private readonly unstruckLooks = new Map<number, number>();

  /** The look for a cell that is written: without the stroke through its letters, which says deleted. */
  unstruck(base: number): number {
    const known = this.unstruckLooks.get(base);
    if (known !== undefined) return known;
    const { styles } = this;
    const { attributes, inner } = styles.xf(base);
    const font = styles.item('fonts', Number(attributes.fontId ?? 0));
    const bare = withoutStroke(font, styles.prefix);
    const fontId = bare === font ? undefined : String(styles.addFont(bare));
    const place =
      fontId === undefined
        ? base
        : styles.addXf({ attributes: { ...attributes, fontId, applyFont: '1' }, inner });
    this.unstruckLooks.set(base, place);
    return place;
  }

  /** The look of a cell of look `base` with the mark on it. */
  marked(base: number, { severity, changed, quoted }: ForeignMark): number {
    if (severity === null && !changed && !quoted) return base;
    const key = `${base} ${severity} ${changed} ${quoted}`;
    const known = this.made.get(key);
    if (known !== undefined) return known;
    const { styles } = this;
    const { attributes, inner } = styles.xf(base);
    const next: Record<string, string> = { ...attributes };
    if (severity !== null) {
      next.fillId = String(styles.addFill(fillXml(styles.prefix, severity, base)));
      next.applyFill = '1';
      const font = styles.item('fonts', Number(attributes.fontId ?? 0));
      if (font !== '' && isPale(font)) {
        next.fontId = String(styles.addFont(inInk(font, styles.prefix)));
        next.applyFont = '1';
      }
    }
    if (changed) {
      next.borderId = String(styles.addBorder(outlineXml(styles.prefix, base)));
      next.applyBorder = '1';
    }
    if (quoted) next.quotePrefix = '1';
    const place = styles.addXf({ attributes: next, inner });
    this.made.set(key, place);
    if (place !== base) this.before.set(place, base);
    return place;
  }
}

function inInk(font: string, prefix: string): string {
  const found = new RegExp(`<${prefix}color\\s[^>]*/>`).exec(font);
  if (found === null) return font;
  let tag = found[0];
  for (const name of ['theme', 'indexed', 'tint', 'auto']) tag = withAttribute(tag, name, null);
  return font.replace(found[0], withAttribute(tag, 'rgb', INK));
}

function withoutStroke(font: string, prefix: string): string {
  return font.replace(new RegExp(`<${prefix}strike(\\s[^>]*)?(/>|></${prefix}strike>)`), '');
}
