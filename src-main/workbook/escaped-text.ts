const ESCAPE = /_x([0-9A-Fa-f]{4})_/g;

/**
 * Undoes `_x0041_` escapes of stored text in one pass, so `_x005F_x0041_` is the text `_x0041_`.
 * Source: ECMA-376 part 1, 22.9.2.19 (ST_Xstring).
 */
export function unescapeText(text: string): string {
  if (!text.includes('_x')) return text;
  return text.replace(ESCAPE, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)));
}

/** Shortest part of a text that the engine keeps as a view on the whole. */
const SHORTEST_VIEW = 13;

/**
 * The same text, kept by itself: a part cut out of a long text keeps all of that in memory as long
 * as the part lives.
 */
export function detached(text: string): string {
  // Joining makes a new text when the part is cut out of it again.
  return text.length < SHORTEST_VIEW ? text : ` ${text}`.slice(1);
}
