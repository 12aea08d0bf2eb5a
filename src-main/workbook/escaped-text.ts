const ESCAPE = /_x([0-9A-Fa-f]{4})_/g;

/**
 * Undoes `_x0041_` escapes of stored text in one pass, so `_x005F_x0041_` is the text `_x0041_`.
 * Source: ECMA-376 part 1, 22.9.2.19 (ST_Xstring).
 */
export function unescapeText(text: string): string {
  if (!text.includes('_x')) return text;
  return text.replace(ESCAPE, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)));
}
