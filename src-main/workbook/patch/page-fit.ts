/** Pages side by side on which a sheet stays readable. */
import { type SheetMap, sectionOf } from './sheet-map.ts';

/** Smallest scale a sheet is shrunk to before it takes another page beside. */
const LEAST_SCALE = 0.45;
const MOST_PAGES = 4;
const INCHES_PER_CHARACTER = 7 / 96;

/** Width and height in inches by number of the paper (ECMA-376 part 1, 18.3.1.63). */
const papers: ReadonlyMap<number, readonly [number, number]> = new Map([
  [1, [8.5, 11]],
  [3, [11, 17]],
  [5, [8.5, 14]],
  [8, [11.69, 16.54]],
  [9, [8.27, 11.69]],
  [66, [16.54, 23.39]],
]);

/**
 * Pages wide a sheet fitted to `fitToWidth` pages should take now that it is wider; null: leave it.
 * A sheet that is not fitted, or fitted to more than one page, keeps what it says.
 */
export function pagesWide(map: SheetMap, widths: readonly number[]): number | null {
  if (!map.fitsToPage) return null;
  const setup = sectionOf(map, 'pageSetup')?.attributes ?? {};
  if (Number(setup.fitToWidth ?? 1) !== 1) return null;
  const [short, long] = papers.get(Number(setup.paperSize ?? 1)) ?? [8.27, 11.69];
  const margins = sectionOf(map, 'pageMargins')?.attributes ?? {};
  const across = setup.orientation === 'landscape' ? long : short;
  const room = across - Number(margins.left ?? 0.7) - Number(margins.right ?? 0.7);
  const wanted = widths.reduce((sum, width) => sum + width, 0) * INCHES_PER_CHARACTER;
  const pages = Math.min(MOST_PAGES, Math.ceil((wanted * LEAST_SCALE) / Math.max(1, room)));
  return pages > 1 ? pages : null;
}
