/** Grids as paper wants them: every row, no scrolling, and no column cut. */
import type { GridApi } from 'ag-grid-community';

/** Width of a landscape page between its margins, in CSS pixels: the narrower of A4 and Letter. */
const pageWidthPx = 970;

const grids = new Set<GridApi>();

/** Lets a grid be laid out for paper as long as it stands; call the result when it goes. */
export function printable(grid: GridApi): () => void {
  grids.add(grid);
  return () => grids.delete(grid);
}

function widest(): number {
  const widths = [...grids].map((grid) =>
    grid.getAllDisplayedColumns().reduce((sum, column) => sum + column.getActualWidth(), 0),
  );
  return Math.max(pageWidthPx, ...widths);
}

/** Two frames: the grid draws in the first what it was told before. */
function drawn(): Promise<void> {
  return new Promise((done) => {
    requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done, 120)));
  });
}

/** Lays every grid out for paper, prints, and puts it back. */
export async function withPrintLayout<T>(page: Document, print: () => Promise<T>): Promise<T> {
  const all = [...grids];
  const zoom = pageWidthPx / widest();
  page.documentElement.style.setProperty('--print-zoom', String(zoom));
  for (const grid of all) grid.setGridOption('domLayout', 'print');
  try {
    await drawn();
    return await print();
  } finally {
    for (const grid of all) if (!grid.isDestroyed()) grid.setGridOption('domLayout', 'normal');
  }
}
