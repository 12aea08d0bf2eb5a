import { paletteCss } from './palette.ts';

/** Puts the colour variables into the page. A constructed sheet: no inline style is needed. */
export function applyPalette(page: Document): void {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(paletteCss());
  page.adoptedStyleSheets = [...page.adoptedStyleSheets, sheet];
}
