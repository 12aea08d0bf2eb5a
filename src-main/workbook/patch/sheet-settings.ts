/** Changes of what stands around a sheet's rows: columns, dimension, print set-up, notes. */
import { parseArea } from '../cell-address.ts';
import { areaText } from './references.ts';
import { placeOfSection, type SheetMap, sectionOf } from './sheet-map.ts';
import { type Splice, withAttribute } from './xml-write.ts';

export interface ColumnWidth {
  readonly column: number;
  /** In characters. */
  readonly width: number;
}

function colTag(prefix: string, { column, width }: ColumnWidth): string {
  return `<${prefix}col min="${column + 1}" max="${column + 1}" width="${width}" customWidth="1"/>`;
}

/**
 * The widths of our columns among those there are: a range that reaches over one of ours is split,
 * all else stays as written. Columns that held ours before lose their width.
 */
export function colSplices(
  map: SheetMap,
  widths: readonly ColumnWidth[],
  dropped: ReadonlySet<number>,
): Splice[] {
  const ours = new Set([...widths.map(({ column }) => column), ...dropped]);
  const { prefix, text, cols } = map;
  const list: { readonly first: number; readonly xml: string }[] = widths.map((one) => ({
    first: one.column,
    xml: colTag(prefix, one),
  }));
  let touched = widths.length > 0;
  for (const { first, last, start, end } of cols) {
    const tag = text.slice(start, end);
    let from = first;
    // Our columns are few; a range may be the whole sheet.
    for (const column of [...ours].sort((a, b) => a - b)) {
      if (column < from || column > last) continue;
      touched = true;
      if (column > from) list.push({ first: from, xml: ranged(tag, from, column - 1) });
      from = column + 1;
    }
    if (from > last) continue;
    list.push({ first: from, xml: from === first ? tag : ranged(tag, from, last) });
  }
  if (!touched) return [];
  list.sort((a, b) => a.first - b.first);
  const written = list.map(({ xml }) => xml).join('');
  const whole = written === '' ? '' : `<${prefix}cols>${written}</${prefix}cols>`;
  // The list may be written in several pieces (ECMA-376 part 1, 18.3.1.99); it becomes one.
  const [first, ...others] = map.sections.filter(({ name }) => name === 'cols');
  if (first === undefined) {
    const at = placeOfSection(map, 'cols');
    return [{ start: at, end: at, text: whole }];
  }
  return [
    { start: first.start, end: first.end, text: whole },
    ...others.map(({ start, end }) => ({ start, end, text: '' })),
  ];
}

function ranged(tag: string, first: number, last: number): string {
  return withAttribute(withAttribute(tag, 'min', String(first + 1)), 'max', String(last + 1));
}

/** The stated dimension widened to our cells; a sheet that states none keeps stating none. */
export function dimensionSplices(map: SheetMap, lastRow: number, lastColumn: number): Splice[] {
  const section = sectionOf(map, 'dimension');
  const area = parseArea(section?.attributes.ref ?? '');
  if (section === undefined || area === undefined) return [];
  const wide = {
    ...area,
    lastRow: Math.max(area.lastRow, lastRow),
    lastColumn: Math.max(area.lastColumn, lastColumn),
  };
  const tag = map.text.slice(section.start, section.tagEnd);
  const text = withAttribute(tag, 'ref', areaText(wide));
  return [{ start: section.start, end: section.tagEnd, text }];
}

/** Pages side by side that the sheet is fitted to. */
export function pagesWideSplices(map: SheetMap, pages: number): Splice[] {
  const section = sectionOf(map, 'pageSetup');
  if (section === undefined) {
    const at = placeOfSection(map, 'pageSetup');
    return [{ start: at, end: at, text: `<${map.prefix}pageSetup fitToWidth="${pages}"/>` }];
  }
  const tag = map.text.slice(section.start, section.tagEnd);
  const text = withAttribute(tag, 'fitToWidth', String(pages));
  return [{ start: section.start, end: section.tagEnd, text }];
}

/** The element that leads to the boxes of notes, where the sheet has none. */
export function legacyDrawingSplices(map: SheetMap, linkId: string, linkSpace: string): Splice[] {
  const at = placeOfSection(map, 'legacyDrawing');
  const text = `<${map.prefix}legacyDrawing xmlns:r="${linkSpace}" r:id="${linkId}"/>`;
  return [{ start: at, end: at, text }];
}
