/** Looks of our own sheets and columns as XML of a styles part. */
import type { Dress } from '../write-styles.ts';
import { attributeText } from './xml-write.ts';

type Part<Name extends keyof Dress> = NonNullable<Dress[Name]>;

const colour = (prefix: string, name: string, argb: string | undefined): string =>
  argb === undefined ? '' : `<${prefix}${name} rgb="${argb}"/>`;

export function fontXml(prefix: string, font: Part<'font'>): string {
  const { bold, size, name, color } = font;
  const parts = [
    bold === true ? `<${prefix}b/>` : '',
    `<${prefix}sz val="${size ?? 9}"/>`,
    colour(prefix, 'color', color?.argb),
    `<${prefix}name val="${attributeText(name ?? 'Arial')}"/>`,
    `<${prefix}family val="2"/>`,
  ];
  return `<${prefix}font>${parts.join('')}</${prefix}font>`;
}

export function fillXml(prefix: string, fill: Part<'fill'>): string {
  if (fill.type !== 'pattern') return '';
  const colours =
    colour(prefix, 'fgColor', fill.fgColor?.argb) + colour(prefix, 'bgColor', fill.bgColor?.argb);
  return `<${prefix}fill><${prefix}patternFill patternType="${fill.pattern}">${colours}</${prefix}patternFill></${prefix}fill>`;
}

const sides = ['left', 'right', 'top', 'bottom'] as const;

export function borderXml(prefix: string, border: Part<'border'>): string {
  const side = (name: (typeof sides)[number]): string => {
    const edge = border[name];
    if (edge?.style === undefined) return `<${prefix}${name}/>`;
    const inner = colour(prefix, 'color', edge.color?.argb);
    return `<${prefix}${name} style="${edge.style}">${inner}</${prefix}${name}>`;
  };
  return `<${prefix}border>${sides.map(side).join('')}<${prefix}diagonal/></${prefix}border>`;
}

export function alignmentXml(prefix: string, alignment: Dress['alignment']): string {
  if (alignment === undefined) return '';
  const { horizontal, vertical, wrapText, indent } = alignment;
  const parts = [
    horizontal === undefined ? '' : ` horizontal="${horizontal}"`,
    vertical === undefined ? '' : ` vertical="${vertical === 'middle' ? 'center' : vertical}"`,
    wrapText === true ? ' wrapText="1"' : '',
    indent === undefined || indent === 0 ? '' : ` indent="${indent}"`,
  ];
  return `<${prefix}alignment${parts.join('')}/>`;
}
