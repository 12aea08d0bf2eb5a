/** Cell styles of the marked-up schedule. Style objects are shared: one object per look. */
import type { Border, Fill, Font, Style } from 'exceljs';
import { markedFormat } from '../../src-shared/exchange/export/severity-letters.ts';
import type { Severity } from '../../src-shared/limits/limit.ts';

/** Colours of the window's light theme, as opaque ARGB. */
export const colours = {
  ink: 'FF1B262C',
  quiet: 'FF5B6770',
  input: 'FF0F4F8A',
  accent: 'FF1B6B73',
  head: 'FFECE8DD',
  rule: 'FFDCD7CB',
} as const;

interface MarkLook {
  readonly ink: string;
  readonly fill: Fill;
  readonly edge: string;
}

const solid = (argb: string): Fill => ({
  type: 'pattern',
  pattern: 'solid',
  fgColor: { argb },
  bgColor: { argb },
});

/** Told apart in greyscale too: dark, edged, pale, paler, hatched. */
const marks: Readonly<Record<Severity, MarkLook>> = {
  stop: { ink: 'FFFFFFFF', fill: solid('FF86163B'), edge: 'FF86163B' },
  breach: { ink: 'FFA8430B', fill: solid('FFF9E3D5'), edge: 'FFA8430B' },
  watch: { ink: 'FF6B5300', fill: solid('FFF5EAC4'), edge: 'FFDCD7CB' },
  note: { ink: 'FF375364', fill: solid('FFDFE7EC'), edge: 'FFDCD7CB' },
  'not-checked': {
    ink: 'FF4A4A45',
    fill: {
      type: 'pattern',
      pattern: 'lightUp',
      fgColor: { argb: 'FFC9C4B8' },
      bgColor: { argb: 'FFF4F2EC' },
    },
    edge: 'FFDCD7CB',
  },
};

/** All of a cell's look, in the words of the writing library. */
export type Dress = Partial<Style>;

/** What a cell looks like. */
export interface CellLook {
  readonly kind: 'text' | 'number';
  readonly ink: 'typed' | 'solved';
  readonly severity: Severity | null;
  /** Show the severity's letter before the value. */
  readonly letter: boolean;
  readonly changed: boolean;
  readonly wrap: boolean;
  /** Decimals of a number; null: as it is. */
  readonly decimals: number | null;
  /** Text that begins like a formula. */
  readonly guarded: boolean;
}

// Everywhere at hand, or with a stand-in of the same widths.
const usualFont: BookFont = { name: 'Arial', size: 9 };

/** Name and size of the letters. */
export interface BookFont {
  readonly name: string;
  readonly size: number;
}

const thin = (argb: string): Partial<Border> => ({ style: 'thin', color: { argb } });
const medium = (argb: string): Partial<Border> => ({ style: 'medium', color: { argb } });
const around = (edge: Partial<Border>) => ({ top: edge, bottom: edge, left: edge, right: edge });

function plainFormat({ kind, decimals, guarded, severity, letter }: CellLook): string {
  if (kind === 'text') return guarded || (letter && severity !== null) ? '@' : 'General';
  if (decimals === null) return 'General';
  return decimals === 0 ? '0' : `0.${'0'.repeat(decimals)}`;
}

function numberFormat(look: CellLook): string {
  const { letter, severity } = look;
  const format = plainFormat(look);
  return letter && severity !== null ? markedFormat(severity, format) : format;
}

function borderOf({ changed, severity }: CellLook): Style['border'] {
  if (changed) return around(medium(colours.accent));
  if (severity === 'breach' || severity === 'stop') return around(thin(marks[severity].edge));
  return { bottom: thin(colours.rule) };
}

function makeStyle(look: CellLook, base: BookFont): Partial<Style> {
  const mark = look.severity === null ? null : marks[look.severity];
  const ink = mark?.ink ?? (look.ink === 'typed' ? colours.input : colours.ink);
  const style: Partial<Style> = {
    numFmt: numberFormat(look),
    font: { ...base, color: { argb: ink }, bold: look.severity === 'stop' },
    alignment: {
      vertical: 'top',
      horizontal: look.kind === 'number' ? 'right' : 'left',
      wrapText: look.wrap,
      // Keeps words off the number in the column before.
      ...(look.kind === 'text' ? { indent: 1 } : {}),
    },
    border: borderOf(look),
  };
  return mark === null ? style : { ...style, fill: mark.fill };
}

/** Hands out one style object per look, so that a large sheet stays small and quick. */
export class StyleBook {
  private readonly styles = new Map<string, Partial<Style>>();
  private readonly base: BookFont;

  constructor(base: BookFont = usualFont) {
    this.base = base;
    this.title = this.letters({ size: 13, bold: true, color: { argb: colours.ink } });
    this.quiet = this.letters({ color: { argb: colours.quiet } });
    this.lead = this.letters({ color: { argb: colours.ink } });
  }

  private letters(more: Partial<Font>): Partial<Style> {
    return { font: { ...this.base, ...more } };
  }

  cell(look: CellLook): Partial<Style> {
    const { kind, ink, severity, letter, changed, wrap, decimals, guarded } = look;
    const key = `${kind} ${ink} ${severity} ${letter} ${changed} ${wrap} ${decimals} ${guarded}`;
    let style = this.styles.get(key);
    if (style === undefined) {
      style = makeStyle(look, this.base);
      this.styles.set(key, style);
    }
    return style;
  }

  readonly title: Partial<Style>;
  readonly quiet: Partial<Style>;
  readonly lead: Partial<Style>;

  /** Header of a column; those of typed columns are in the ink of what is typed. */
  header(kind: 'text' | 'number', ink: 'typed' | 'solved'): Partial<Style> {
    const key = `header ${kind} ${ink}`;
    let style = this.styles.get(key);
    if (style === undefined) {
      style = {
        font: {
          ...this.base,
          bold: true,
          color: { argb: ink === 'typed' ? colours.input : colours.ink },
        },
        fill: solid(colours.head),
        alignment: {
          vertical: 'bottom',
          horizontal: kind === 'number' ? 'right' : 'left',
          wrapText: true,
          ...(kind === 'text' ? { indent: 1 } : {}),
        },
        border: { bottom: medium(colours.ink), right: thin(colours.rule) },
      };
      this.styles.set(key, style);
    }
    return style;
  }
}
