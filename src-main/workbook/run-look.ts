import type { CellStyle } from './cell-styles.ts';
import { fontColour, type Palette } from './font-colour.ts';
import type { RichRun, RichText } from './rich-text.ts';

/** A text as its cell shows it. */
export interface LookedText {
  /** What is not struck through; the whole text when all of it is. */
  readonly text: string;
  /** All of it is struck through. */
  readonly struck: boolean;
  /** The part struck through, when only a part is. */
  readonly struckText: string | undefined;
  readonly colour: string | undefined;
}

const isStruck = (run: RichRun, style: CellStyle): boolean =>
  run.struck === 'yes' || (run.struck === 'as-cell' && style.struck);

/** Struck runs that stand apart get a blank between them. */
function struckPart(runs: readonly RichRun[], style: CellStyle): string {
  let text = '';
  let apart = false;
  for (const run of runs) {
    if (!isStruck(run, style)) {
      apart = text !== '';
      continue;
    }
    text += apart ? ` ${run.text}` : run.text;
    apart = false;
  }
  return text.replace(/\s+/g, ' ').trim();
}

/** What is left: the blanks before and behind a struck run are one blank. */
function keptPart(runs: readonly RichRun[], style: CellStyle): string {
  let text = '';
  let behindStruck = false;
  for (const run of runs) {
    if (isStruck(run, style)) {
      behindStruck = true;
      continue;
    }
    text += behindStruck && /\s$/.test(text) ? run.text.trimStart() : run.text;
    behindStruck = false;
  }
  return text.trim();
}

/** Struck and coloured parts of a text under the style of its cell. */
export function lookOf(rich: RichText, style: CellStyle, palette: Palette): LookedText {
  const { text, runs } = rich;
  if (runs === undefined) {
    return { text, struck: style.struck, struckText: undefined, colour: style.colour };
  }
  const filled = runs.filter((run) => run.text.trim() !== '');
  const kept = filled.filter((run) => !isStruck(run, style));
  const all = kept.length === 0 && filled.length > 0;
  const colours = (all ? filled : kept).map((run) => {
    if (run.colour) return fontColour(run.colour, palette);
    return run.struck === 'as-cell' ? style.colour : undefined;
  });
  const colour = colours.find((one) => one !== undefined);
  if (all || kept.length === filled.length) {
    return { text, struck: all, struckText: undefined, colour };
  }
  const left = keptPart(runs, style);
  return { text: left, struck: false, struckText: struckPart(runs, style), colour };
}
